import { goldenSection } from '../stats/golden-section.ts';
import type { EpochMs } from '../units/time.ts';
import type { Bitterness } from './batch.ts';
import type { Course } from './leaching-course.ts';
import { courseAt } from './leaching-course.ts';
import { tastingScore, tastingSd } from './tasting-score.ts';

export interface Tasting {
  readonly at: EpochMs;
  readonly bitterness: Bitterness;
}

export interface LeachingFit {
  readonly leachingPerDay: number;
  /** 80 % profile interval. */
  readonly low: number;
  readonly high: number;
  /** How much of what is known about the rate is the starting guess and not the tastings: 1 without tastings. */
  readonly priorShare: number;
}

/** Spread of ln kL between growers, varieties and lots around the starting guess (assumption: about ×/÷ 2). */
export const leachingPriorSd = 0.7;

/** Half the width of an 80 % interval of a normal distribution, in standard deviations. */
export const eightyPercent = 1.2815515655446004;

/**
 * This batch's leaching rate from its tastings: the most likely value given the starting guess (maximum a posteriori).
 *
 * Minimise J(x) = Σ (S_observed - S_model(e^x))² / σ² + (x - ln kL_guess)² / 0.7², x = ln kL, σ = 1 score point.
 * Interval: the profile J(x) = J_min + 1.2816². Share of the guess: its precision 1/0.7² over the total (Gauss–Newton) precision.
 *
 * Source: Bayes with a log-normal prior; σ and 0.7 are assumptions. Units: 1/day at 20 °C.
 * `course.leachingPerDay` is the starting guess. Tastings oldest first, none before the course starts.
 * Example: no tastings give the guess itself, ×/÷ e^(1.2816 · 0.7) = 2.45.
 */
export const fitLeaching = (course: Course, tastings: readonly Tasting[]): LeachingFit => {
  const times = tastings.map((tasting) => tasting.at);
  const guess = Math.log(course.leachingPerDay);
  const scores = (x: number): number[] =>
    courseAt({ ...course, leachingPerDay: Math.exp(x) }, times).map((state) => tastingScore(state.flesh));
  const cost = (x: number): number => {
    let sum = ((x - guess) / leachingPriorSd) ** 2;
    if (times.length > 0) for (const [i, score] of scores(x).entries()) sum += (((tastings[i] as Tasting).bitterness - score) / tastingSd) ** 2;
    return sum;
  };
  if (times.length === 0) {
    const spread = Math.exp(eightyPercent * leachingPriorSd);
    return { leachingPerDay: course.leachingPerDay, low: course.leachingPerDay / spread, high: course.leachingPerDay * spread, priorShare: 1 };
  }

  // Scores are held at 0 and 10, so the cost may have more than one valley: a coarse look finds the deepest first.
  let best = guess;
  let least = cost(guess);
  for (let step = -coarseSteps; step <= coarseSteps; step++) {
    const x = guess + step * coarseStep;
    const here = cost(x);
    if (here < least) [best, least] = [x, here];
  }
  const mode = goldenSection(cost, best - coarseStep, best + coarseStep, 1e-4);
  const floor = cost(mode);
  const edge = (direction: 1 | -1): number => {
    // The guess alone bounds the interval: past this the prior term has cost enough.
    let inside = mode;
    let outside = guess + direction * (Math.abs(mode - guess) + leachingPriorSd * Math.sqrt(floor + eightyPercent ** 2) + 1e-6);
    while (Math.abs(outside - inside) > 1e-3) {
      const middle = (inside + outside) / 2;
      if (cost(middle) - floor > eightyPercent ** 2) outside = middle;
      else inside = middle;
    }
    return outside;
  };

  const below = scores(mode - slopeStep);
  const above = scores(mode + slopeStep);
  const fromGuess = 1 / leachingPriorSd ** 2;
  const fromTastings = above.reduce((sum, score, i) => sum + ((score - (below[i] as number)) / (2 * slopeStep * tastingSd)) ** 2, 0);
  return { leachingPerDay: Math.exp(mode), low: Math.exp(edge(-1)), high: Math.exp(edge(1)), priorShare: fromGuess / (fromGuess + fromTastings) };
};

const coarseSteps = 12;
const coarseStep = 0.25;
const slopeStep = 0.01;
