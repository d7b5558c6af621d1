import type { Result } from '../result.ts';
import { ok } from '../result.ts';
import type { EpochMs } from '../units/time.ts';
import type { OutsideValidRange } from '../valid-range.ts';
import type { Cut, Maturity } from './batch.ts';
import type { FruitAndBrine } from './brine-ratio.ts';
import { brineRatio } from './brine-ratio.ts';
import type { BrineChange, Course } from './leaching-course.ts';
import { hydrolysisActivationEnergy, hydrolysisRate, leachingActivationEnergy, leachingRates, startingFlesh } from './leaching-defaults.ts';
import type { TemperatureReading } from './temperature-dose.ts';
import { temperatureDose } from './temperature-dose.ts';

/** What the leaching model needs to know of a batch. */
export interface CuringBatch extends FruitAndBrine {
  readonly cut: Cut;
  readonly maturity: Maturity;
  readonly startedAt: EpochMs;
}

export interface CourseHistory {
  /** Oldest first. */
  readonly temperatures: readonly TemperatureReading[];
  /** Assumed after the last reading. */
  readonly laterC: number;
  readonly changes: readonly BrineChange[];
}

/** A batch's course with the starting guesses of its cut and maturity; its temperatures are integrated here, once. */
export const batchCourse = (batch: CuringBatch, { temperatures, laterC, changes }: CourseHistory): Result<Course, OutsideValidRange> => {
  const ratio = brineRatio(batch);
  if (!ratio.ok) return ratio;
  return ok({
    start: batch.startedAt,
    startingFlesh: startingFlesh[batch.maturity],
    ratio: ratio.value,
    leachingPerDay: leachingRates[batch.cut].perDay,
    hydrolysisPerDay: hydrolysisRate.perDay,
    leachingDose: temperatureDose(temperatures, leachingActivationEnergy, batch.startedAt, laterC),
    hydrolysisDose: temperatureDose(temperatures, hydrolysisActivationEnergy, batch.startedAt, laterC),
    changes: changes.filter((change) => change.at > batch.startedAt).toSorted((a, b) => a.at - b.at),
  });
};
