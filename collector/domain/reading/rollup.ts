import type { EpochMs } from '../units/time.ts';
import { levelMs, levels, type Level } from './store.ts';

/** The levels that hold rollups instead of readings, finest first. */
export type RollupLevel = Exclude<Level, 'raw'>;
export const rollupLevels = levels.filter((level): level is RollupLevel => level !== 'raw');

/**
 * What is kept of the good readings of one interval. Sum and count rather than a mean, so that two rollups can be put together
 * and a late reading can be added: every mean derived from them is weighted by the number of readings.
 */
export interface Rollup {
  /** Start of the interval. */
  readonly from: EpochMs;
  readonly count: number;
  readonly sum: number;
  readonly min: number;
  readonly max: number;
}

/** A rollup still being added to. */
export type RollupDraft = { -readonly [Field in keyof Rollup]: Rollup[Field] };

/**
 * Intervals are counted from the epoch, so the same instant always falls in the same one; they are half-open.
 * Worked example: 12:34:56 falls in the ten minutes from 12:30 and in the six hours from 12:00 (UTC).
 */
export const bucketStart = (at: EpochMs, widthMs: number): EpochMs => Math.floor(at / widthMs) * widthMs;

/** The start of the first interval that begins at or after an instant. */
export const nextBucketStart = (at: EpochMs, widthMs: number): EpochMs => Math.ceil(at / widthMs) * widthMs;

export const levelStart = (at: EpochMs, level: RollupLevel): EpochMs => bucketStart(at, levelMs[level]);

export const startRollup = (from: EpochMs): RollupDraft => ({ from, count: 0, sum: 0, min: Infinity, max: -Infinity });

export const addValue = (draft: RollupDraft, value: number): void => {
  draft.count += 1;
  draft.sum += value;
  if (value < draft.min) draft.min = value;
  if (value > draft.max) draft.max = value;
};

/** Adds the readings another rollup stands for; its interval is the caller's affair. */
export const addRollup = (draft: RollupDraft, other: Rollup): void => {
  draft.count += other.count;
  draft.sum += other.sum;
  if (other.min < draft.min) draft.min = other.min;
  if (other.max > draft.max) draft.max = other.max;
};

/** Mean of the readings; kept between lowest and highest, which rounding of the sum could pass by a last bit. */
export const meanOf = ({ count, sum, min, max }: Rollup): number => Math.min(max, Math.max(min, sum / count));
