import type { Cut } from '#domain/cure/batch.ts';
import { hydrolysisActivationEnergy, hydrolysisRate, leachingActivationEnergy, leachingRates } from '#domain/cure/leaching-defaults.ts';
import type { Course } from '#domain/cure/leaching-course.ts';
import { courseReaches } from '#domain/cure/leaching-course.ts';
import { temperatureDose } from '#domain/cure/temperature-dose.ts';
import { dayMs } from '#domain/units/time.ts';

export interface SteadyCure {
  readonly cut: Cut;
  readonly temperatureC: number;
  /** Days on which all brine is changed; empty: brine kept. */
  readonly changeDays: readonly number[];
  readonly ratio: number;
  readonly startingFlesh: number;
}

/** Days of changes at a steady interval. */
export const every = (days: number, count = 400): number[] => Array.from({ length: count }, (_, i) => (i + 1) * days);

/** Three changes in the first week, one a week after. */
export const threeThenWeekly: readonly number[] = [2, 4, 6, ...Array.from({ length: 60 }, (_, i) => 13 + 7 * i)];

/** A cure at one temperature with the model's starting guesses. */
export const steadyCourse = (cure: SteadyCure): Course => ({
  start: 0,
  startingFlesh: cure.startingFlesh,
  ratio: cure.ratio,
  leachingPerDay: leachingRates[cure.cut].perDay,
  hydrolysisPerDay: hydrolysisRate.perDay,
  leachingDose: temperatureDose([], leachingActivationEnergy, 0, cure.temperatureC),
  hydrolysisDose: temperatureDose([], hydrolysisActivationEnergy, 0, cure.temperatureC),
  changes: cure.changeDays.map((day) => ({ at: day * dayMs, fraction: 1 })),
});

/** Days until the flesh is down to a target; NaN when it is not within 2,000 days. */
export const daysTo = (course: Course, target: number): number => (courseReaches(course, target, 2_000 * dayMs) ?? Number.NaN) / dayMs;
