import { ok, fail, type Result } from '../result.ts';
import { dayMs, type EpochMs } from '../units/time.ts';
import { batchCourse, type CuringBatch } from './batch-course.ts';
import type { GrowerGuess } from './grower-guess.ts';
import type { BrineChange, Course } from './leaching-course.ts';
import { fitCautiously, leachingPriorSd, type LeachingFit, type LeachingPrior, type Tasting } from './leaching-fit.ts';
import type { TemperatureReading } from './temperature-dose.ts';
import { timeWeightedMeanC } from './time-weighted.ts';

/** What is known of a cure that is under way. */
export interface CureSoFar {
  readonly batch: CuringBatch;
  /** Oldest first, uneven, gaps allowed (bridged by a straight line in rate). */
  readonly temperatures: readonly TemperatureReading[];
  readonly changes: readonly BrineChange[];
  /** Still to come; one that is overdue is taken as made now. */
  readonly plannedChanges: readonly BrineChange[];
  readonly tastings: readonly Tasting[];
  readonly now: EpochMs;
  /** Default: the mean of the last seven days of the history. */
  readonly assumedFutureTemperatureC?: number;
  /** What the grower's earlier cures of this cut say; default: the general starting guess of the cut. */
  readonly guess?: GrowerGuess;
}

export interface FittedCourse {
  /** With the starting guess of the cut as its rate: `fit` tells the one that is likely. */
  readonly course: Course;
  readonly fit: LeachingFit;
  readonly prior: LeachingPrior;
  /** Below 1 while there are too few tastings to outweigh the guess. */
  readonly tastingWeight: number;
  readonly tastings: readonly Tasting[];
  readonly futureTemperatureC: number;
  /** The readings that were used. */
  readonly temperatures: readonly TemperatureReading[];
}

/** The course of a cure over its own temperatures and brine changes, with the leaching rate that fits its tastings best. */
export const fittedCourse = (cure: CureSoFar): Result<FittedCourse, { readonly message: string }> => {
  const { batch, now } = cure;
  if (!(now >= batch.startedAt)) return fail({ message: 'the cure has not started' });
  const temperatures = usable(cure.temperatures, batch.startedAt, now);
  const futureTemperatureC = cure.assumedFutureTemperatureC ?? timeWeightedMeanC(temperatures, (temperatures.at(-1)?.t ?? now) - meanDays * dayMs);
  if (Number.isNaN(futureTemperatureC)) return fail({ message: 'no temperature readings of this drum yet' });
  if (!isLiquid(futureTemperatureC)) return fail({ message: 'the assumed temperature is outside -10 to 60 °C' });
  const built = batchCourse(batch, { temperatures, laterC: futureTemperatureC, changes: madeAndPlanned(cure) });
  if (!built.ok) return built;
  const tastings = cure.tastings.filter((tasting) => tasting.at >= batch.startedAt && tasting.at <= now).toSorted((a, b) => a.at - b.at);
  const prior: LeachingPrior = cure.guess ?? { perDay: built.value.leachingPerDay, sd: leachingPriorSd };
  return ok({ course: built.value, ...fitCautiously({ course: built.value, tastings }, prior), prior, tastings, futureTemperatureC, temperatures });
};

/** A cure that is not over by then is not a cure. */
export const horizonDays = 3 * 365;

const meanDays = 7;

const isLiquid = (temperatureC: number): boolean => temperatureC >= -10 && temperatureC <= 60;

/** Readings the model can use, in order. The last one before the start is kept: it tells the temperature at the start. */
const usable = (readings: readonly TemperatureReading[], from: EpochMs, to: EpochMs): readonly TemperatureReading[] => {
  const kept: TemperatureReading[] = [];
  let ordered = true;
  for (const reading of readings) {
    if (!(reading.t <= to) || !isLiquid(reading.temperatureC)) continue;
    const last = kept.at(-1);
    if (last !== undefined && reading.t < last.t) ordered = false;
    if (ordered && last !== undefined && reading.t <= from) kept.pop();
    kept.push(reading);
  }
  if (!ordered) kept.sort((a, b) => a.t - b.t);
  return kept;
};

const madeAndPlanned = ({ changes, plannedChanges, now }: CureSoFar): BrineChange[] => [
  ...changes.filter((change) => change.at <= now),
  ...plannedChanges.map((change) => ({ at: Math.max(change.at, now), fraction: change.fraction })),
];
