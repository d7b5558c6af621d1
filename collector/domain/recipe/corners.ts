import type { Brine } from './brines.ts';
import type { Mixture, Surroundings, Values } from './mixture.ts';
import { countName, mixtureOf, percentName, saltName } from './mixture.ts';
import type { Span } from './span.ts';
import { hullOf } from './span.ts';
import type { MeasureSystem } from './unknown.ts';
import { measureSpan, openSpans, saltDensity } from './unknown.ts';

/** Everything one brine leaves open, by name, with its span: only what its own words use. */
export const openOf = (brine: Brine, { fruitKg, fruit, vinegarPercent, earlierSaltPerWater = 0 }: Surroundings, system: MeasureSystem | null): ReadonlyMap<string, Span> => {
  const open = new Map<string, Span>();
  const add = (name: string, span: Span): void => {
    open.set(name, span);
  };
  const fruitAmount = brine.amounts.find(({ substance }) => substance === 'fruit') ?? fruit;
  const used = [...brine.amounts, ...brine.rated.flatMap(({ vinegar, per }) => [vinegar, per]), ...(fruitAmount === null ? [] : [fruitAmount])];
  for (const amount of used) {
    const { unit, substance, count } = amount;
    if (count.low !== count.high) add(countName(amount), count);
    if (unit.measure !== null) add(unit.measure, measureSpan(unit.measure, system));
    if (substance === 'salt' && unit.dimension !== 'mass') add(saltName(amount), saltDensity(amount.saltName));
    if (substance === 'salt' && unit.dimension === 'part') add('partsByVolume', openSpans.partsByVolume);
    if (amount.waterOrBrine) add('litresOfBrine', openSpans.litresOfBrine);
    if (substance === 'fruit' && unit.dimension === 'volume') add('bulkKgPerL', openSpans.bulkKgPerL);
  }
  const vinegars = used.filter(({ substance }) => substance === 'vinegar');
  const stated = vinegars.find(({ percent }) => percent !== null)?.percent ?? vinegarPercent;
  if (vinegars.length > 0 && stated === null) add('vinegarPercent', openSpans.vinegarPercent);
  if (vinegars.length > 0 && stated !== null && stated.low !== stated.high) add(percentName('vinegar', stated), stated);
  const percent = brine.amounts.find((amount) => amount.substance === 'brine' && amount.percent !== null)?.percent ?? brine.percent;
  if (percent !== null) {
    add('percentOfBrine', openSpans.percentOfBrine);
    if (percent.low !== percent.high) add(percentName('salt', percent), percent);
  }
  add('stoneFraction', openSpans.stoneFraction);
  add('fleshMoisture', openSpans.fleshMoisture);
  if (earlierSaltPerWater > 0) add('fleshSaltPerWater', { low: 0, high: earlierSaltPerWater });
  if (fruitKg === null && fruitAmount === null) add('brineLPerKg', openSpans.brineLPerKg);
  return open;
};

/** More open things than this in one brine, and nothing useful can be said of it. */
export const mostOpen = 11;

export type MixtureSpans = { readonly [Part in keyof Mixture]: Span | null };

/**
 * The spans of everything a brine comes to: the mixture at every corner of what is open.
 *
 * Each result rises or falls steadily with each open value (a quotient of products), so its least and greatest lie at corners; and because a
 * cup is one cup throughout a recipe, "½ cup per 10 cups" does not widen by the size of the cup. Null: the recipe does not say enough, or
 * leaves more than `mostOpen` things open.
 */
export const spansOf = (brine: Brine, surroundings: Surroundings, open: ReadonlyMap<string, Span>): MixtureSpans | null => {
  const wide = [...open].filter(([, { low, high }]) => low !== high);
  if (wide.length > mostOpen) return null;
  const fixed: Values = Object.fromEntries([...open].map(([name, { low }]) => [name, low]));
  const corners = Array.from({ length: 2 ** wide.length }, (_, corner) =>
    mixtureOf(brine, surroundings, { ...fixed, ...Object.fromEntries(wide.map(([name, { low, high }], bit) => [name, (corner & (1 << bit)) === 0 ? low : high])) }),
  );
  const span = (part: keyof Mixture): Span | null => {
    const values = corners.map((mixture) => mixture[part]);
    return values.some((value) => value === null || !Number.isFinite(value)) ? null : hullOf(values as number[]);
  };
  return {
    saltG: span('saltG'), waterKg: span('waterKg'), liquidL: span('liquidL'), fruitKg: span('fruitKg'), pouredPercentWw: span('pouredPercentWw'), settledPercentWw: span('settledPercentWw'),
    aceticPouredPercent: span('aceticPouredPercent'), aceticSettledPercent: span('aceticSettledPercent'),
  };
};
