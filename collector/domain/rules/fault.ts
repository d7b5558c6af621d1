import type { Quality } from '../reading/reading.ts';
import type { EpochMs } from '../units/time.ts';

/** Readings in a row that were not good, over one series. One bad reading is noise; more than the limit in a row are a fault. */
export interface FaultCondition {
  readonly inARow: number;
  /** Of the first bad one. */
  readonly since: EpochMs;
  readonly quality: Quality;
}

export const noFault: FaultCondition = { inARow: 0, since: 0, quality: 'good' };

export const stepFault = (condition: FaultCondition, quality: Quality, at: EpochMs): FaultCondition => {
  if (quality === 'good') return condition.inARow === 0 ? condition : noFault;
  return { inARow: condition.inARow + 1, since: condition.inARow === 0 ? at : condition.since, quality };
};

export const isFault = (condition: FaultCondition, mostInARow: number): boolean => condition.inARow > mostInARow;
