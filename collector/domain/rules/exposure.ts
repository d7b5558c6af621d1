import { degreeHours } from '../cure/degree-hours.ts';
import { bucketStart, levelStart } from '../reading/rollup.ts';
import { levelMs } from '../reading/store.ts';
import { hourMs, type EpochMs } from '../units/time.ts';
import type { Finding } from './finding.ts';
import type { Limit } from './limit.ts';

/** The warmth that counts. Assumption: the upper end of what practice advises for olives in brine (25 °C). */
export const exposureBaseC = 25;
const widthMs = levelMs['6h'];

/** What is known of one cure: a running total of whole six hours and the six hours still being added to, however long the cure lasts. */
export interface ExposureDraft {
  /** Start of the cure: nothing before it counts. */
  readonly from: EpochMs;
  degreeHours: number;
  hoursAbove: number;
  /** Hours of the six-hour intervals that hold a good reading. */
  hoursKnown: number;
  open: { readonly from: EpochMs; sum: number; count: number } | null;
}

export type Exposure = Pick<ExposureDraft, 'degreeHours' | 'hoursAbove' | 'hoursKnown'>;

export const startExposure = (from: EpochMs): ExposureDraft => ({ from, degreeHours: 0, hoursAbove: 0, hoursKnown: 0, open: null });

/**
 * Adds good readings of one time, or the sum of many of one interval. Intervals are those of the six-hour rollups, counted from the epoch.
 * What comes for an interval already closed is left out: its judgement has been given.
 */
export const addToExposure = (draft: ExposureDraft, at: EpochMs, sum: number, count: number): void => {
  const from = levelStart(at, '6h');
  if (draft.open === null || from > draft.open.from) {
    Object.assign(draft, exposureAt(draft, from));
    draft.open = { from, sum: 0, count: 0 };
  }
  if (from !== draft.open.from) return;
  draft.open.sum += sum;
  draft.open.count += count;
};

/**
 * The exposure by a time, of whole six hours only: hours × (mean of the six hours - 25 °C) where that is above nothing.
 *
 * The mean of six hours stands for all of them: what goes up and down within them is evened out, so a short warm spell counts less
 * than it was. Six hours without a good reading count nothing and are not known. Each interval is rounded to a millionth, so that a sum
 * of readings and a mean times a count give the same to the last digit.
 */
export const exposureAt = ({ from: cureFrom, degreeHours: before, hoursAbove, hoursKnown, open }: ExposureDraft, at: EpochMs): Exposure => {
  if (open === null || open.count === 0 || open.from + widthMs > at) return { degreeHours: before, hoursAbove, hoursKnown };
  const hours = (open.from + widthMs - Math.max(open.from, cureFrom)) / hourMs;
  const meanC = open.sum / open.count;
  const counted = degreeHours([{ hours, fromC: meanC, toC: meanC }], exposureBaseC);
  if (!counted.ok) return { degreeHours: before, hoursAbove, hoursKnown };
  const millionth = 1e6;
  return {
    degreeHours: before + Math.round(counted.value.degreeHours * millionth) / millionth,
    hoursAbove: hoursAbove + (Math.round(meanC * millionth) / millionth > exposureBaseC ? hours : 0),
    hoursKnown: hoursKnown + hours,
  };
};

/**
 * Rule of kind `exposure`: the degree-hours above 25 °C of this cure are more than `high`. Warmth that no alarm of the moment tells of
 * adds up: weeks at 27 °C weigh like days at 30 °C. What was counted stays counted, so it is over only with the batch or with another limit.
 *
 * Source: assumption, base and limit; nothing published sets degree-hours for olives. Valid for cures of any length; unknown hours are told.
 * Example: five days and six hours at 26 °C are 126 °C·h, outside a limit of 120.
 */
export const judgeExposure = (limit: Limit, draft: ExposureDraft, at: EpochMs): Finding | null => {
  const { high } = limit;
  const { degreeHours: sum, hoursAbove, hoursKnown } = exposureAt(draft, at);
  if (high === null || sum <= high) return null;
  const unknown = Math.round((bucketStart(at, widthMs) - draft.from) / hourMs - hoursKnown);
  const unmeasured = unknown < 1 ? '' : ` ${String(unknown)} hours of the cure were not measured and are not counted.`;
  return {
    // Not a brine that is too warm now: nothing to draw as a stretch outside.
    side: null,
    value: Math.round(sum * 10) / 10,
    limitValue: high,
    text: `Brine was above ${String(exposureBaseC)} °C for ${hoursAbove.toFixed(0)} hours of this cure, by ${(sum / hoursAbove).toFixed(1)} °C on average: ${sum.toFixed(0)} degree-hours, more than ${String(high)}.${unmeasured}`,
    advice: `Shade or cool the drum: below ${String(exposureBaseC)} °C nothing more is added. Measure pH and salt today, and look for gas, soft fruit and a bad smell. Hold the lot if anything is off, and do not taste to find out. The limit is a guess for comparing cures, no proof of harm or of safety: local rules decide.`,
  };
};
