import { dayMs, type EpochMs } from '../units/time.ts';
import { fittedCourse, horizonDays, type CureSoFar } from './fitted-course.ts';
import { startingFleshSd } from './forecast.ts';
import { courseAt, courseReaches, type Course } from './leaching-course.ts';
import { endPointFlesh, hydrolysisRate } from './leaching-defaults.ts';
import { tastingScore, tastingSd } from './tasting-score.ts';
import { localMorning } from './schedule.ts';
import { localDate } from './stage.ts';

/** The morning on which a tasting is expected to narrow the finish most. */
export interface NextTasting {
  readonly at: EpochMs;
  /** Hardly sweet before then: only one cure in fifty would be. */
  readonly notBefore: EpochMs;
  /** Spread of the finish now and, on average, after that tasting: standard deviations of the logarithm of its days. */
  readonly spreadNow: number;
  readonly spreadAfter: number;
}

/**
 * Which tasting teaches most about the day the fruit is sweet: of the local mornings after the last one, the one after which the finish
 * is expected to be known best.
 *
 * What is thought now is a grid of cures (leaching rate, starting bitterness, hydrolysis rate), each weighed by how well it explains the
 * tastings so far. For each morning every score a taster may give is gone through: how likely it is, and how wide the finish would
 * still be after it. A morning too early finds all cures bitter, one too late finds all sweet; neither tells them apart. Never later
 * than the day by which the fruit is more likely sweet than not.
 *
 * Deterministic, and a function of what was tasted and not of the hour: a morning that has passed stays the one that was due.
 * Source: pre-posterior analysis (Raiffa and Schlaifer 1961) on the model of `forecastReadiness`; the four weeks are an assumption.
 * Null where the finish is not in sight.
 */
export const nextTasting = (cure: CureSoFar, after: EpochMs, zone: string): NextTasting | null => {
  const fitted = fittedCourse(cure);
  if (!fitted.ok) return null;
  const { course, fit, prior, tastings, tastingWeight } = fitted.value;
  const tastingTimes = tastings.map(({ at }) => at);
  const horizon = course.start + horizonDays * dayMs;

  const mornings = morningsAfter(after, zone);
  const cures: Cure[] = [];
  const low = Math.log(fit.low) - edge * Math.log(fit.leachingPerDay / fit.low);
  const high = Math.log(fit.high) + edge * Math.log(fit.high / fit.leachingPerDay);
  for (let step = 0; step < rates; step++) {
    const x = low + ((high - low) * step) / (rates - 1);
    for (const flesh of threePoints) {
      for (const decay of threePoints) {
        const tried: Course = {
          ...course,
          leachingPerDay: Math.exp(x),
          startingFlesh: course.startingFlesh * Math.exp(startingFleshSd * flesh.z),
          hydrolysisPerDay: hydrolysisRate.perDay * Math.exp(hydrolysisSd * decay.z),
        };
        const misfit = courseAt(tried, tastingTimes).reduce((sum, state, i) => sum + (((tastings[i]?.bitterness ?? 0) - tastingScore(state.flesh)) / tastingSd) ** 2, 0);
        const finish = courseReaches(tried, endPointFlesh.sweet, horizon) ?? horizon;
        cures.push({
          logWeight: Math.log(flesh.weight * decay.weight) - 0.5 * (tastingWeight * misfit + ((x - Math.log(prior.perDay)) / prior.sd) ** 2),
          finish,
          logDays: Math.log(Math.max(finish - course.start, dayMs / 4)),
          scores: courseAt(tried, mornings).map(({ flesh: left }) => tastingScore(left)),
        });
      }
    }
  }
  const best = Math.max(...cures.map(({ logWeight }) => logWeight));
  const weights = cures.map(({ logWeight }) => Math.exp(logWeight - best));
  const sum = weights.reduce((total, weight) => total + weight, 0);
  const now = weights.map((weight) => weight / sum);

  // Fruit that is more likely sweet than not is tasted, whatever a later day would teach.
  const latest = finishBy(cures, now, 0.5) + dayMs;
  const inTime = mornings.filter((morning, i) => i === 0 || morning <= latest);
  const spreads = inTime.map((_, morning) => spreadAfter(cures, now, morning));
  const least = Math.min(...spreads);
  const spreadNow = spreadOf(cures, now);
  const chosen = spreads.findIndex((spread) => spread <= least + tie);
  const at = inTime[chosen];
  return at === undefined || !Number.isFinite(least) ? null : { at, notBefore: finishBy(cures, now, hardly), spreadNow, spreadAfter: spreads[chosen] ?? spreadNow };
};

/** One cure of the grid. */
interface Cure {
  readonly logWeight: number;
  readonly finish: EpochMs;
  readonly logDays: number;
  readonly scores: readonly number[];
}

const morningsAfter = (after: EpochMs, zone: string): readonly EpochMs[] => {
  const day = localDate(after, zone);
  return Array.from({ length: mostDays }, (_, i) => localMorning(day.add({ days: i + 1 }), zone));
};

/** Scores are written in whole points; each stands for what rounds to it. */
const outcomes = Array.from({ length: 11 }, (_, score) => score);

const spreadAfter = (cures: readonly Cure[], now: readonly number[], morning: number): number => {
  const likelihoods = cures.map(({ scores }) => {
    const expected = scores[morning] ?? 0;
    const raw = outcomes.map((score) => Math.exp(-0.5 * ((score - expected) / tastingSd) ** 2));
    const total = raw.reduce((sum, value) => sum + value, 0);
    return raw.map((value) => value / total);
  });
  let expected = 0;
  for (const outcome of outcomes) {
    const joint = now.map((weight, i) => weight * (likelihoods[i]?.[outcome] ?? 0));
    const chance = joint.reduce((sum, value) => sum + value, 0);
    if (chance > 1e-9) expected += chance * spreadOf(cures, joint.map((value) => value / chance));
  }
  return expected;
};

const spreadOf = (cures: readonly Cure[], weights: readonly number[]): number => {
  const middle = weights.reduce((sum, weight, i) => sum + weight * (cures[i]?.logDays ?? 0), 0);
  return Math.sqrt(weights.reduce((sum, weight, i) => sum + weight * ((cures[i]?.logDays ?? 0) - middle) ** 2, 0));
};

/** When a share of what may be is sweet. */
const finishBy = (cures: readonly Cure[], weights: readonly number[], share: number): EpochMs => {
  const order = cures.map(({ finish }, i) => ({ finish, weight: weights[i] ?? 0 })).sort((one, other) => one.finish - other.finish);
  let below = 0;
  for (const { finish, weight } of order) {
    below += weight;
    if (below >= share) return finish;
  }
  return order.at(-1)?.finish ?? 0;
};

/** A drum is tasted every four weeks at least, also where a later day would teach more (assumption). */
const mostDays = 28;
const hardly = 0.02;
/** Rates on either side of the fit, past its 80 % interval by as much again. */
const rates = 17;
const edge = 1;
/** So little more is not worth waiting for: the earliest of equals. */
const tie = 0.002;
const hydrolysisSd = 0.62;
/** Gauss–Hermite: three points stand for a normal distribution. */
const threePoints = [{ z: -Math.sqrt(3), weight: 1 / 6 }, { z: 0, weight: 2 / 3 }, { z: Math.sqrt(3), weight: 1 / 6 }] as const;
