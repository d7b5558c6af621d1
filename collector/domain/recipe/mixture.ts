import { aceticBalance } from '../acid/acetic-balance.ts';
import { percentWwFrom } from '../brine/bases.ts';
import { densityInRange } from '../brine/density.ts';
import { brineRanges } from '../brine/range.ts';
import { waterDensity } from '../brine/water-density.ts';
import { fleshWaterL } from '../cure/brine-ratio.ts';
import type { Amount } from './amount.ts';
import type { Brine } from './brines.ts';
import type { Span } from './span.ts';

/** A value for everything a recipe leaves open, by name. */
export type Values = Readonly<Record<string, number>>;

export const countName = (amount: Amount): string => `count of ${amount.substance} ${amount.text}`;
export const saltName = (amount: Amount): string => `density of ${amount.saltName} salt`;
export const percentName = (what: string, { low, high }: Span): string => `${what} of ${low} to ${high} %`;

export interface Surroundings {
  /** Fruit given by the caller or by the recipe; null: as much as a drum or jar usually holds for its brine. */
  readonly fruitKg: number | null;
  readonly fruit: Amount | null;
  readonly vinegarPercent: Span | null;
  /** Most salt per water that the flesh may already hold from an earlier brine. */
  readonly earlierSaltPerWater?: number;
}

/** What one brine comes to when everything open is given a value; null where the recipe does not say enough. */
export interface Mixture {
  readonly saltG: number;
  readonly waterKg: number;
  readonly liquidL: number;
  readonly fruitKg: number;
  readonly pouredPercentWw: number | null;
  readonly settledPercentWw: number | null;
  readonly aceticPouredPercent: number | null;
  readonly aceticSettledPercent: number | null;
}

const waterKgPerL = waterDensity(20) / 1_000;

const at = (values: Values, name: string): number => values[name] ?? Number.NaN;

const countOf = (amount: Amount, values: Values): number => (amount.count.low === amount.count.high ? amount.count.low : at(values, countName(amount)));

/** In litres; a part is a litre, for only the proportions count. */
const litresOf = (amount: Amount, values: Values, kgPerL: number): number => {
  const { unit } = amount;
  const measured = countOf(amount, values) * unit.factor;
  if (unit.dimension === 'mass') return measured / kgPerL;
  return measured * (unit.measure === null ? 1 : at(values, unit.measure));
};

/** Salt by volume is as heavy as it pours; salt in parts is by weight or by volume, nobody says which. */
const saltKgOf = (amount: Amount, values: Values): number => {
  if (amount.unit.dimension === 'mass') return litresOf(amount, values, 1);
  const density = at(values, saltName(amount));
  if (amount.unit.dimension === 'volume') return litresOf(amount, values, 1) * density;
  return countOf(amount, values) * (1 + at(values, 'partsByVolume') * (density - 1));
};

/** `p %` of salt: grams in 100 g of water at the one end, in 100 g of brine at the other. */
export const strengthOf = (percent: Span, values: Values): number => {
  const p = percent.low === percent.high ? percent.low : at(values, percentName('salt', percent));
  const inWater = (100 * p) / (100 + p);
  return inWater + at(values, 'percentOfBrine') * (p - inWater);
};

/**
 * Salt, water, acid and fruit of one brine, by mass balance.
 *
 * poured % w/w = 100·S / (S + W); settled = 100·(S + c·F) / (S + c·F + W + F), W with the water of the vinegar, F = m (1 - stone)·moisture the
 * water of the flesh, c what it already holds of salt per water; acetic as `aceticBalance`, g per 100 mL, volumes added.
 *
 * Source: mass balance; a limit is about where the brine settles, not about what is poured (Codex limits hold after osmotic balance).
 * Example: 8 oz of salt in one US gallon is 5.66 % w/w poured.
 */
export const mixtureOf = (brine: Brine, { fruitKg: given, fruit, vinegarPercent }: Surroundings, values: Values): Mixture => {
  const of = (substance: Amount['substance']): readonly Amount[] => brine.amounts.filter((amount) => amount.substance === substance);
  const dissolvedKg = sum(of('salt').map((amount) => saltKgOf(amount, values)));
  const water = of('water');
  const waterL = sum(water.map((amount) => litresOf(amount, values, waterKgPerL)));
  const plainWaterKg = water.some(({ waterOrBrine }) => waterOrBrine) ? waterInLitres(dissolvedKg, waterL, at(values, 'litresOfBrine')) : waterL * waterKgPerL;

  const brines = of('brine');
  const stated = brines.flatMap(({ percent }) => (percent === null ? [] : [percent]))[0] ?? brine.percent;
  const isMixed = of('salt').length > 0 && water.length > 0;
  const strength = stated !== null ? strengthOf(stated, values) : isMixed ? (100 * dissolvedKg) / (dissolvedKg + plainWaterKg) : null;
  const density = densityInRange(Math.min(strength ?? 0, brineRanges.percentWw.high), 20) / 1_000;
  // A strength with no amount is a litre of that brine, for only the proportions count; vinegar by the cup has no proportion to it.
  const isLitre = brines.length === 0 && stated !== null;
  const brineL = isLitre ? 1 : sum(brines.map((amount) => litresOf(amount, values, density)));
  const isBrine = brines.length > 0 || isLitre;
  const brineKg = brineL * density;
  const saltKg = isBrine ? (brineKg * (strength ?? Number.NaN)) / 100 : dissolvedKg;
  const ownWaterKg = isBrine ? brineKg - saltKg : plainWaterKg;

  const baseL = isBrine ? brineL : waterL;
  const vinegarL = sum(of('vinegar').map((amount) => litresOf(amount, values, vinegarKgPerL)))
    + sum(brine.rated.map(({ vinegar, per }) => (litresOf(vinegar, values, vinegarKgPerL) * baseL) / litresOf(per, values, waterKgPerL)));
  // Juice and wine thin the brine as water does.
  const thinningL = sum([...of('other-liquid'), ...of('other-acid').filter(({ unit }) => unit.dimension !== 'mass')].map((amount) => litresOf(amount, values, waterKgPerL)));
  const waterKg = ownWaterKg + (vinegarL + thinningL) * waterKgPerL;
  const liquidL = baseL + vinegarL + thinningL;

  const fruitAmount = of('fruit')[0] ?? fruit;
  const fruitKg = given ?? (fruitAmount === null ? liquidL / at(values, 'brineLPerKg') : litresOf(fruitAmount, values, 1) * (fruitAmount.unit.dimension === 'volume' ? at(values, 'bulkKgPerL') : 1));
  const fleshKg = fleshWaterL({ fruitKg, stoneFraction: at(values, 'stoneFraction'), fleshMoisture: at(values, 'fleshMoisture') });
  const fleshSaltKg = fleshKg * (values['fleshSaltPerWater'] ?? 0);
  const ownPercent = [...of('vinegar'), ...brine.rated.map(({ vinegar }) => vinegar)].flatMap(({ percent }) => (percent === null ? [] : [percent]))[0] ?? vinegarPercent;
  const acidPercent = ownPercent === null ? at(values, 'vinegarPercent') : ownPercent.low === ownPercent.high ? ownPercent.low : at(values, percentName('vinegar', ownPercent));
  const acid = isLitre && vinegarL > 0 ? null : aceticBalance(baseL + thinningL, vinegarL * 1_000, acidPercent, fleshKg);

  // Salt without its water, or nothing but vinegar, is no brine.
  if (!isBrine && water.length === 0) return { saltG: saltKg * 1_000, waterKg, liquidL, fruitKg, pouredPercentWw: null, settledPercentWw: null, aceticPouredPercent: null, aceticSettledPercent: null };
  return {
    saltG: saltKg * 1_000, waterKg, liquidL, fruitKg,
    pouredPercentWw: finite((100 * saltKg) / (saltKg + waterKg)), settledPercentWw: finite((100 * (saltKg + fleshSaltKg)) / (saltKg + fleshSaltKg + waterKg + fleshKg)),
    aceticPouredPercent: acid?.ok === true ? acid.value.pouredPercent : null, aceticSettledPercent: acid?.ok === true ? acid.value.settledPercent : null,
  };
};

/** Vinegar of 5 g acetic acid per 100 mL (CRC, from memory). */
const vinegarKgPerL = 1.005;

/** Water in so many litres: all of it, or what finished brine of that volume holds, or between. */
const waterInLitres = (saltKg: number, litres: number, litresOfBrine: number): number => {
  const strength = percentWwFrom('g-per-l', (1_000 * saltKg) / litres, 20);
  const inBrineKg = strength.ok && strength.value > 0 ? saltKg * (100 / strength.value - 1) : litres * waterKgPerL;
  return litres * waterKgPerL + litresOfBrine * (inBrineKg - litres * waterKgPerL);
};

const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0);

const finite = (value: number): number | null => (Number.isFinite(value) ? value : null);
