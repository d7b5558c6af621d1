import type { EpochMs } from '../units/time.ts';
import { dayMs } from '../units/time.ts';
import type { Cut } from './batch.ts';
import { fittedCourse, horizonDays, type CureSoFar } from './fitted-course.ts';
import type { Course } from './leaching-course.ts';
import { courseAt, courseReaches } from './leaching-course.ts';
import type { EndPoint } from './leaching-defaults.ts';
import { endPointFlesh, hydrolysisRate } from './leaching-defaults.ts';
import { eightyPercent, fewTastings, fitLeaching, leachingPriorSd, type Tasting } from './leaching-fit.ts';
import type { TemperatureReading } from './temperature-dose.ts';

export interface ForecastInput extends CureSoFar {
  readonly endPoint?: EndPoint;
}

export interface Readiness {
  /** 80 % interval. `readyTo` is the end of the horizon when `openEnded`. */
  readonly readyFrom: EpochMs;
  readonly readyLikely: EpochMs;
  readonly readyTo: EpochMs;
  readonly openEnded: boolean;
  readonly basis: string;
  readonly endPoint: EndPoint;
  readonly tastings: number;
  readonly priorShare: number;
  readonly kLPerDay: number;
  readonly kLGuessPerDay: number;
  readonly ratio: number;
  /** Bitter substance in the flesh now, by the model; a fresh green fruit is 1. */
  readonly fleshNow: number;
  readonly futureTemperatureC: number;
  /** The longest stretch without a reading, from the start to now. */
  readonly longestGapHours: number;
}

export type Forecast = Readiness | { readonly unknown: string };

/**
 * When a batch is likely to be sweet (or pleasantly bitter): about bitterness only, never about safety.
 *
 * The leaching model runs over the batch's own temperatures and brine changes with the rate that best fits its tastings. The interval
 * adds, in the logarithm of the duration, what an uncertain leaching rate, starting bitterness (×/÷ e^0.4), hydrolysis rate and a
 * tongue that is steadily off (±0.6 points) each do to the finish, the rate fitted anew each time; on the general guess alone it is never narrower than ×/÷ 2, because published cure
 * times of one cut differ three- to fourfold. All widths are assumptions.
 */
export const forecastReadiness = (input: ForecastInput): Forecast => {
  const { batch, now, endPoint = 'sweet' } = input;
  const fitted = fittedCourse(input);
  if (!fitted.ok) return { unknown: fitted.error.message };
  const { course, fit, prior, tastingWeight, tastings, temperatures, futureTemperatureC } = fitted.value;
  const horizon = batch.startedAt + horizonDays * dayMs;
  const target = endPointFlesh[endPoint];
  const finish = (tried: Course, kL: number): EpochMs | null => courseReaches({ ...tried, leachingPerDay: kL }, target, horizon);

  const likely = finish(course, fit.leachingPerDay);
  if (likely === null) return { unknown: 'at this temperature and with these brine changes it would take more than three years' };

  const startShift = Math.exp(eightyPercent * startingFleshSd);
  const refitted = (tried: Course, scores: readonly Tasting[]): EpochMs | null => finish(tried, fitLeaching([{ course: tried, tastings: scores }], prior, tastingWeight).leachingPerDay);
  const variants: (EpochMs | null)[] = [finish(course, fit.low), finish(course, fit.high)];
  for (const tried of [
    { ...course, startingFlesh: course.startingFlesh / startShift },
    { ...course, startingFlesh: course.startingFlesh * startShift },
    { ...course, hydrolysisPerDay: hydrolysisRate.low },
    { ...course, hydrolysisPerDay: hydrolysisRate.high },
  ]) variants.push(refitted(tried, tastings));
  for (const shift of tastings.length === 0 ? [] : [-eightyPercent * tongueSd, eightyPercent * tongueSd]) variants.push(refitted(course, tastings.map(({ at, bitterness }) => ({ at, bitterness: bitterness + shift }))));

  const duration = (at: EpochMs): number => Math.log(Math.max(at - batch.startedAt, shortestCureMs));
  const middle = duration(likely);
  const least = fit.priorShare * Math.LN2 * (prior.sd / leachingPriorSd);
  let earlier = 0;
  let later = 0;
  for (const at of variants) {
    const shift = at === null ? Infinity : duration(at) - middle;
    if (shift < 0) earlier += shift ** 2;
    else later += shift ** 2;
  }
  const readyFrom = Math.round(batch.startedAt + Math.exp(middle - Math.max(least, Math.sqrt(earlier))));
  const readyTo = Math.round(Math.min(horizon, batch.startedAt + Math.exp(middle + Math.max(least, Math.sqrt(later)))));
  const [state] = courseAt({ ...course, leachingPerDay: fit.leachingPerDay }, [now]);
  return {
    readyFrom,
    readyLikely: likely,
    readyTo,
    openEnded: readyTo === horizon,
    basis: basisOf(batch.cut, tastings.length, fit.priorShare, input.guess?.cures ?? 0),
    endPoint,
    tastings: tastings.length,
    priorShare: fit.priorShare,
    kLPerDay: fit.leachingPerDay,
    kLGuessPerDay: prior.perDay,
    ratio: course.ratio,
    fleshNow: state?.flesh ?? course.startingFlesh,
    futureTemperatureC,
    longestGapHours: longestGapHours(temperatures, batch.startedAt, now),
  };
};

/** Guards the logarithm when a shifted start is already below the end point. */
const shortestCureMs = dayMs / 4;
/** Spread of the logarithm of the starting bitterness (assumption). */
export const startingFleshSd = 0.4;
/** How far, in score points, one taster is off in all tastings alike (assumption): more tastings do not mend that. */
const tongueSd = 0.6;

const longestGapHours = (readings: readonly TemperatureReading[], from: EpochMs, now: EpochMs): number => {
  let longest = 0;
  let last = from;
  for (const { t } of readings) {
    if (t - last > longest) longest = t - last;
    last = Math.max(last, t);
  }
  return Math.max(longest, now - last) / 3_600_000;
};

const basisOf = (cut: Cut, tastings: number, priorShare: number, earlierCures: number): string => {
  const guess = Math.round(priorShare * 100);
  const earlier = earlierCures === 0 ? '' : ` from ${counted(earlierCures, 'earlier cure')}`;
  const from = earlierCures === 0 ? `starting guess for ${cut} fruit` : `starting guess${earlier} of ${cut} fruit`;
  if (tastings === 0) return `${from}, no tastings yet`;
  if (tastings < fewTastings) return `mostly the ${from}: ${counted(tastings, 'tasting')} of this batch, too few to outweigh it (${guess} % guess)`;
  return `fitted to ${counted(tastings, 'tasting')} of this batch (${guess} % starting guess${earlier})`;
};

const counted = (count: number, what: string): string => `${count} ${what}${count === 1 ? '' : 's'}`;
