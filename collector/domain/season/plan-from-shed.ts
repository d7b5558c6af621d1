import { isAct, type Shed } from '../journal/shed.ts';
import { mean, median } from '../stats/moments.ts';
import type { Spread } from '../stats/triangular.ts';
import { dayMs } from '../units/time.ts';
import { planRanges, seasonPlanDefaults, type SeasonPlanInput } from './plan-input.ts';
import type { TreeYears } from './tree-years.ts';

export interface SuggestedPlan {
  readonly input: SeasonPlanInput;
  /** The fields that come from this shed's own story; the others are assumptions. */
  readonly own: readonly (keyof SeasonPlanInput)[];
}

/** Fewer own figures than this make no spread. */
const fewest = 3;

/** Where the plan begins: with what this shed has and has seen, as far as it goes. */
export const planFromShed = (shed: Shed, trees: readonly TreeYears[]): SuggestedPlan => {
  const found: { -readonly [Field in keyof SeasonPlanInput]?: SeasonPlanInput[Field] } = {};
  const kgOf = (bearing: 'on' | 'off'): readonly number[] => trees.flatMap(({ years }) => years.flatMap((year) => (year.bearing === bearing && year.kg !== null ? [year.kg] : [])));
  const onKg = spreadOf(kgOf('on'));
  if (onKg !== null) found.onKg = onKg;
  const offKg = spreadOf(kgOf('off'));
  if (offKg !== null) found.offKg = offKg;
  if (trees.length > 0) {
    const between = ((found.onKg ?? seasonPlanDefaults.onKg).likely + (found.offKg ?? seasonPlanDefaults.offKg).likely) / 2;
    found.treesOn = Math.ceil(trees.reduce((sum, tree) => sum + onShare(tree, between), 0));
    found.treesOff = trees.length - found.treesOn;
  }
  const volumes = [...shed.drums.values()].map(({ volumeL }) => volumeL);
  if (volumes.length > 0) {
    found.drums = volumes.length;
    found.drumL = within('drumL', median(volumes));
  }
  const cures = [...shed.batches.values()].flatMap(({ pickedAt, jarredAt }) => (jarredAt === null ? [] : [within('cureDays', (jarredAt - pickedAt) / dayMs)]));
  const cureDays = spreadOf(cures);
  if (cureDays !== null) found.cureDays = cureDays;
  const jarMl = [...shed.batches.values()].flatMap(({ acts }) => acts.filter(isAct('jarred'))).at(-1)?.body.jarMl;
  if (jarMl !== undefined) found.jarMl = jarMl;
  return { input: { ...seasonPlanDefaults, ...found }, own: Object.keys(found) as (keyof SeasonPlanInput)[] };
};

/** A steady tree counts as what its mean is nearer to; one of which nothing is known as half of each. */
const onShare = ({ nextYear, years, alternateBearing }: TreeYears, between: number): number => {
  if (nextYear !== null) return nextYear === 'on' ? 1 : 0;
  const kg = years.flatMap((year) => (year.kg === null ? [] : [year.kg]));
  return alternateBearing === null || kg.length === 0 ? 0.5 : mean(kg) >= between ? 1 : 0;
};

const within = (field: keyof SeasonPlanInput, value: number): number => Math.min(planRanges[field].high, Math.max(planRanges[field].low, value));

const spreadOf = (values: readonly number[]): Spread | null =>
  values.length < fewest ? null : { low: tenth(Math.min(...values)), likely: tenth(median(values)), high: tenth(Math.max(...values)) };

const tenth = (value: number): number => Math.round(value * 10) / 10;
