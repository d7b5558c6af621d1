import type { PlanBand, SeasonPlan, SeasonTotals, TreeYears } from '#contract';
import { showMass, showVolume, type UnitChoice } from '../../format/units.ts';
import type { Leaving, Staying } from './flow.ts';

export const kgText = (kg: number, units: UnitChoice): string => {
  const { text, unit } = showMass(kg * 1_000, units);
  return `${text}\u00a0${unit}`;
};

const litresText = (litres: number, units: UnitChoice): string => {
  const { text, unit } = showVolume(litres, units);
  return `${text}\u00a0${unit}`;
};

export const counted = (count: number, one: string, many = `${one}s`): string => `${String(count)}\u00a0${count === 1 ? one : many}`;

export const leavingWords: Readonly<Record<Leaving, string>> = { culled: 'sorted out', loose: 'in no drum', stone: 'stones', tasted: 'tasted', unaccounted: 'unaccounted for' };
export const stayingWords: Readonly<Record<Staying, string>> = { curing: 'still in drums', shelf: 'on the shelf' };

/** The season in one sentence. */
export const seasonSentence = ({ picks, pickedKg, jars, soldJars, curingKg, unaccountedShare }: SeasonTotals, units: UnitChoice): string => {
  const parts = [`${counted(picks, 'pick')} of ${kgText(pickedKg, units)} in all`];
  if (curingKg > 0) parts.push(`${kgText(curingKg, units)} still in drums`);
  if (jars > 0) parts.push(`${counted(jars, 'jar')} filled, ${String(soldJars)} gone out`);
  const missing = unaccountedShare === null ? '' : unaccountedShare >= 0 ? ` Of the fruit from emptied drums ${percent(unaccountedShare)} is unaccounted for.` : ` The jars hold ${percent(-unaccountedShare)} more than went into their drums.`;
  return `${parts.join('; ')}.${missing}`;
};

/** What is missing of a season, or over, in a few words. */
export const missingWords = (share: number): string => (share >= 0 ? `${percent(share)} unaccounted for` : `${percent(-share)} more in jars than went in`);

export const percent = (share: number): string => `${(share * 100).toFixed(share < 0.095 ? 1 : 0).replace(/\.0$/, '')}\u00a0%`;

export const swingWords = ({ alternateBearing }: Pick<TreeYears, 'alternateBearing'>): string =>
  alternateBearing === null ? 'not known yet' : `${alternateBearing.toFixed(2)}${alternateBearing < 0.15 ? ', steady' : alternateBearing < 0.4 ? '' : ', strong'}`;

const whole = (value: number): string => String(Math.round(value));

/** `6`, or `6 to 9`. */
export const spanText = ({ p10, p90 }: PlanBand, show: (value: number) => string = whole): string => (show(p10) === show(p90) ? show(p10) : `${show(p10)} to ${show(p90)}`);

export interface PlanRow {
  readonly name: string;
  readonly middle: string;
  readonly span: string;
}

/** All figures of a plan, in the order of the season. */
export const planRows = ({ figures }: SeasonPlan, units: UnitChoice): readonly PlanRow[] => {
  const kg = (value: number): string => kgText(Math.round(value), units);
  const litres = (value: number): string => litresText(Math.round(value), units);
  const day = (value: number): string => `day ${whole(value)}`;
  const rows: readonly (readonly [string, PlanBand, (value: number) => string])[] = [
    ['Fruit picked', figures.fruitKg, kg], ['Fruit without culls', figures.cleanKg, kg], ['Drum fills', figures.fills, whole], ['Drums at one time', figures.drums, whole], ['Drums short', figures.drumsShort, whole],
    ['Salt for the cure', figures.cureSaltKg, kg], ['Brine to get rid of', figures.wasteBrineL, litres], ['Jars', figures.jars, whole], ['Lids', figures.lids, whole], ['Jar brine', figures.jarBrineL, litres],
    ['Vinegar in it', figures.vinegarL, litres], ['Salt in it', figures.jarSaltKg, kg], ['Stalls until sold', figures.stalls, whole], ['First stall, after the first pick', figures.firstStallDay, day], ['Last stall', figures.lastStallDay, day],
  ];
  return rows.map(([name, band, show]) => ({ name, middle: show(band.p50), span: spanText(band, show) }));
};

/** What the drums there are mean for the season. */
export const drumSentence = ({ shortChance, figures, shopping, input }: SeasonPlan): string => {
  const most = spanText(figures.drums);
  const there = `${counted(input.drums, 'drum')} ${input.drums === 1 ? 'was' : 'were'}`;
  if (shortChance === 0) return `${there} enough in every season played: ${most} in use at one time.`;
  if (shortChance < 0.005) return `${there} enough in nearly every season played: ${most} in use at one time.`;
  return `${there} too few in ${shortChance === 1 ? 'every season' : `${percent(shortChance)} of the seasons`} played: ${most} were needed at one time.${shopping.drums > 0 ? ` ${counted(shopping.drums, 'more drum')}, bought or borrowed, would do in four seasons of five.` : ''}`;
};
