import type { Result } from '../result.ts';
import { fail, ok } from '../result.ts';
import { shapley } from '../stats/shapley.ts';
import { dayMs } from '../units/time.ts';
import type { CuringBatch } from './batch-course.ts';
import { batchCourse } from './batch-course.ts';
import type { Bitterness } from './batch.ts';
import type { BrineChange, Course } from './leaching-course.ts';
import { courseReaches } from './leaching-course.ts';
import { leachingRates, startingFlesh } from './leaching-defaults.ts';
import type { TastedCure, Tasting } from './leaching-fit.ts';
import { fitLeaching, leachingPriorSd } from './leaching-fit.ts';
import { fleshAtScore } from './tasting-score.ts';
import type { TemperatureDose, TemperatureReading } from './temperature-dose.ts';
import { timeWeightedMeanC } from './time-weighted.ts';

/** What may make one cure slower than another, as far as the leaching model knows; each is taken from one cure or the other. */
export const cureFactors = ['temperature', 'changes', 'cut', 'maturity', 'ratio'] as const;
export type CureFactor = (typeof cureFactors)[number];

/** A finished cure with all that decides how long the model says it takes. Times are epoch ms. */
export interface AttributedCure {
  readonly batch: CuringBatch;
  /** Oldest first. */
  readonly temperatures: readonly TemperatureReading[];
  readonly changes: readonly BrineChange[];
  /** How the changes would have gone on after the last one; null: not at all. */
  readonly changesEveryDays: number | null;
  readonly tastings: readonly Tasting[];
  /** Days it took, by its tastings. */
  readonly days: number;
}

export interface DaysAttribution {
  /** How much longer the first cure took; negative: shorter. The parts and the unexplained rest add up to it. */
  readonly differenceDays: number;
  readonly parts: Readonly<Record<CureFactor, number>>;
  readonly unexplainedDays: number;
  /** What the model says for each as it was. */
  readonly modelDays: readonly [number, number];
  /** How much faster this grower's fruit leaches than the starting guesses of the cuts say: one number for both cures. */
  readonly rateFactor: number;
  /** How much of what is known about that number is the starting guess: 1 without tastings. */
  readonly priorShare: number;
}

export interface NotAttributed {
  readonly code: 'no-temperatures' | 'outside-valid-range' | 'never-reached';
  readonly message: string;
}

/**
 * Why one cure took longer than another: the difference in days shared out to temperature, brine changes, cut, maturity and brine ratio.
 *
 * The leaching model gives days to the end point for each of the 2^5 = 32 mixtures of the two cures; each factor gets its mean effect
 * over all orders in which the second cure may be turned into the first (`shapley`). One rate is fitted to the tastings of both
 * together: fitted to each alone it would swallow the very difference that is to be explained. What the factors do not explain (variety,
 * size, salt, the taster, the model) is `unexplainedDays`, however large.
 *
 * After a history ends its mean of the last seven days is held and its changes go on at their own pace. All assumptions of the leaching
 * model apply. Units: days. Valid range: that of `brineRatio`; -10 to 60 °C.
 */
export const attributeDays = (first: AttributedCure, second: AttributedCure, endPoint: Bitterness): Result<DaysAttribution, NotAttributed> => {
  const one = preparedOf(first);
  if (!one.ok) return one;
  const other = preparedOf(second);
  if (!other.ok) return other;
  // A factor whose bit is set is taken from the first cure.
  const pair = [other.value, one.value] as const;
  const fit = fitLeaching([one.value, other.value].map(tastedWithCut), { perDay: 1, sd: leachingPriorSd });

  const target = fleshAtScore(endPoint);
  const daysOf = (set: number): number => {
    const from = (factor: CureFactor): Prepared => pair[(set >> cureFactors.indexOf(factor)) & 1] as Prepared;
    const course: Course = {
      start: 0,
      startingFlesh: startingFlesh[from('maturity').batch.maturity],
      ratio: from('ratio').course.ratio,
      leachingPerDay: fit.leachingPerDay * leachingRates[from('cut').batch.cut].perDay,
      hydrolysisPerDay: one.value.course.hydrolysisPerDay,
      leachingDose: from('temperature').course.leachingDose,
      hydrolysisDose: from('temperature').course.hydrolysisDose,
      changes: from('changes').course.changes,
    };
    const at = courseReaches(course, target, horizonMs);
    return at === null ? Number.NaN : at / dayMs;
  };
  const all = 2 ** cureFactors.length - 1;
  const modelDays = [daysOf(all), daysOf(0)] as const;
  const shares = shapley(cureFactors.length, daysOf);
  if (shares.some(Number.isNaN)) return fail({ code: 'never-reached', message: 'with some mixture of the two the model does not come down to the end point within ten years' });
  const differenceDays = first.days - second.days;
  return ok({
    differenceDays,
    parts: Object.fromEntries(cureFactors.map((factor, i) => [factor, shares[i] as number])) as Record<CureFactor, number>,
    unexplainedDays: differenceDays - (modelDays[0] - modelDays[1]),
    modelDays,
    rateFactor: fit.leachingPerDay,
    priorShare: fit.priorShare,
  });
};

interface Prepared {
  readonly batch: CuringBatch;
  readonly tastings: readonly Tasting[];
  /** From time 0, whenever the cure began. */
  readonly course: Course;
}

const preparedOf = ({ batch, temperatures, changes, changesEveryDays, tastings }: AttributedCure): Result<Prepared, NotAttributed> => {
  const since = temperatures.map(({ t, temperatureC }) => ({ t: t - batch.startedAt, temperatureC }));
  const laterC = timeWeightedMeanC(since, (since.at(-1)?.t ?? 0) - 7 * dayMs);
  if (Number.isNaN(laterC)) return fail({ code: 'no-temperatures', message: 'no temperature of the cure was measured' });
  if (since.some(({ temperatureC }) => !(temperatureC >= -10 && temperatureC <= 60))) return fail({ code: 'outside-valid-range', message: 'a temperature lies outside -10 to 60 °C' });
  const made = changes.map(({ at, fraction }) => ({ at: at - batch.startedAt, fraction }));
  const course = batchCourse({ ...batch, startedAt: 0 }, { temperatures: since, laterC, changes: goingOn(made, changesEveryDays) });
  const tasted = tastings.map(({ at, bitterness }) => ({ at: at - batch.startedAt, bitterness })).filter(({ at }) => at >= 0);
  return course.ok ? ok({ batch, tastings: tasted, course: course.value }) : fail({ code: 'outside-valid-range', message: course.error.message });
};

const horizonDays = 3_650;
const horizonMs = horizonDays * dayMs;

const goingOn = (made: readonly BrineChange[], everyDays: number | null): readonly BrineChange[] => {
  const last = made.at(-1);
  if (last === undefined || everyDays === null) return made;
  const count = Math.floor((horizonMs - last.at) / (everyDays * dayMs));
  return [...made, ...Array.from({ length: Math.max(0, count) }, (_, i) => ({ at: last.at + (i + 1) * everyDays * dayMs, fraction: last.fraction }))];
};

/** With the rate of its cut in the dose, one factor can be fitted to cures of several cuts. */
const tastedWithCut = ({ batch, tastings, course }: Prepared): TastedCure => ({ course: { ...course, leachingDose: scaled(course.leachingDose, leachingRates[batch.cut].perDay) }, tastings });

const scaled = (dose: TemperatureDose, factor: number): TemperatureDose => ({ until: (at) => factor * dose.until(at) });
