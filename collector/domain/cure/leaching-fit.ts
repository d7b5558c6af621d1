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

/** One cure's tastings (oldest first, none before its start) beside the course that should explain them. */
export interface TastedCure {
  readonly course: Course;
  readonly tastings: readonly Tasting[];
}

/** What is thought of the rate before anything is tasted: ln kL is normal about ln `perDay`. */
export interface LeachingPrior {
  readonly perDay: number;
  readonly sd: number;
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
 * The leaching rate from tastings: the most likely value given what was thought before (maximum a posteriori).
 *
 * Minimise J(x) = Σ (S_observed - S_model(e^x))² / σ² + (x - ln kL_before)² / sd², x = ln kL, σ = 1 score point, over all cures given.
 * Interval: the profile J(x) = J_min + 1.2816². Share of the guess: its precision 1/sd² over the total (Gauss–Newton) precision.
 *
 * Source: Bayes with a log-normal prior; σ and sd are assumptions. Units: 1/day at 20 °C.
 * One rate for several cures means cures of one cut; the rate in each `course` is not used. `tastingWeight` below 1 lets tastings count less.
 * Example: no tastings and a spread of 0.7 give the guess itself, ×/÷ e^(1.2816 · 0.7) = 2.45.
 */
export const fitLeaching = (cures: readonly TastedCure[], prior: LeachingPrior, tastingWeight = 1): LeachingFit => {
  const tasted = cures.filter((cure) => cure.tastings.length > 0).map(({ course, tastings }) => ({ course, tastings, times: tastings.map((tasting) => tasting.at) }));
  const guess = Math.log(prior.perDay);
  const root = Math.sqrt(tastingWeight);
  const residuals = (x: number): number[] =>
    tasted.flatMap(({ course, tastings, times }) =>
      courseAt({ ...course, leachingPerDay: Math.exp(x) }, times).map((state, i) => (root * ((tastings[i] as Tasting).bitterness - tastingScore(state.flesh))) / tastingSd));
  if (tasted.length === 0) {
    const spread = Math.exp(eightyPercent * prior.sd);
    return { leachingPerDay: prior.perDay, low: prior.perDay / spread, high: prior.perDay * spread, priorShare: 1 };
  }
  const cost = (x: number): number => residuals(x).reduce((sum, residual) => sum + residual ** 2, ((x - guess) / prior.sd) ** 2);

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
    let outside = guess + direction * (Math.abs(mode - guess) + prior.sd * Math.sqrt(floor + eightyPercent ** 2) + 1e-6);
    while (Math.abs(outside - inside) > 1e-3) {
      const middle = (inside + outside) / 2;
      if (cost(middle) - floor > eightyPercent ** 2) outside = middle;
      else inside = middle;
    }
    return outside;
  };

  const below = residuals(mode - slopeStep);
  const above = residuals(mode + slopeStep);
  const fromGuess = 1 / prior.sd ** 2;
  const fromTastings = above.reduce((sum, residual, i) => sum + ((residual - (below[i] as number)) / (2 * slopeStep)) ** 2, 0);
  return { leachingPerDay: Math.exp(mode), low: Math.exp(edge(-1)), high: Math.exp(edge(1)), priorShare: fromGuess / (fromGuess + fromTastings) };
};

/**
 * As above, but while there are few tastings they never outweigh the guess: one or two may be of one odd fruit or one odd day. Their
 * weight is taken down until what is known is half guess.
 */
export const fitCautiously = (cure: TastedCure, prior: LeachingPrior): { readonly fit: LeachingFit; readonly tastingWeight: number } => {
  let tastingWeight = 1;
  let fit = fitLeaching([cure], prior);
  if (cure.tastings.length >= fewTastings) return { fit, tastingWeight };
  for (let turn = 0; turn < weighings && fit.priorShare < 0.495; turn++) {
    tastingWeight *= fit.priorShare / (1 - fit.priorShare);
    fit = fitLeaching([cure], prior, tastingWeight);
  }
  return { fit, tastingWeight };
};

/** Below this many tastings the starting guess dominates, and whatever rests on it says so. */
export const fewTastings = 3;

const weighings = 8;
const coarseSteps = 12;
const coarseStep = 0.25;
const slopeStep = 0.01;
