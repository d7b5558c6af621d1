import type { Cut } from '#domain/cure/batch.ts';
import type { ForecastInput } from '#domain/cure/forecast.ts';
import type { GrowerGuess } from '#domain/cure/grower-guess.ts';
import type { Course } from '#domain/cure/leaching-course.ts';
import { courseAt, courseReaches } from '#domain/cure/leaching-course.ts';
import { endPointFlesh, hydrolysisRate, leachingRates } from '#domain/cure/leaching-defaults.ts';
import type { TastedCure, Tasting } from '#domain/cure/leaching-fit.ts';
import { tastingScore } from '#domain/cure/tasting-score.ts';
import { dayMs } from '#domain/units/time.ts';
import { steadyCourse } from './cures.ts';

/** Repeatable normal numbers: a linear congruential generator (Numerical Recipes) through Box and Muller. */
export const normals = (seed: number): (() => number) => {
  let state = seed;
  const uniform = (): number => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return (state + 0.5) / 2 ** 32;
  };
  return () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
};

/**
 * Growers that are made up: a rate of their own, lots that differ about it, and a tongue that is a point unsure of each tasting and
 * off by a steady amount in all of them.
 */
export interface Grower {
  readonly cut: Cut;
  readonly perDay: number;
  /** Score points added to every tasting. */
  readonly bias: number;
}

export const growerOf = (cut: Cut, normal: () => number, bias: number): Grower => ({ cut, perDay: leachingRates[cut].perDay * Math.exp(betweenGrowersSd * normal()), bias });

/** Together with the lots the general spread of 0.7. */
const lotSd = 0.35;
const betweenGrowersSd = Math.sqrt(0.7 ** 2 - lotSd ** 2);

export interface Lot {
  readonly grower: Grower;
  readonly course: Course;
  readonly temperatureC: number;
  /** When the flesh is truly down to sweet. */
  readonly sweetDay: number;
}

export const lotOf = (grower: Grower, normal: () => number, changeDays: readonly number[]): Lot => {
  const temperatureC = 16 + 2 * normal();
  const course = {
    ...steadyCourse({ cut: grower.cut, temperatureC, changeDays, ratio: 1.5, startingFlesh: Math.exp(0.4 * normal()) }),
    leachingPerDay: grower.perDay * Math.exp(lotSd * normal()),
    hydrolysisPerDay: hydrolysisRate.perDay * Math.exp(0.62 * normal()),
  };
  return { grower, course, temperatureC, sweetDay: (courseReaches(course, endPointFlesh.sweet, 6_000 * dayMs) ?? Number.NaN) / dayMs };
};

export const tasted = ({ course, grower }: Lot, days: readonly number[], normal: () => number): Tasting[] =>
  courseAt(course, days.map((day) => day * dayMs)).map((state, i) => ({ at: (days[i] as number) * dayMs, bitterness: Math.min(10, Math.max(0, tastingScore(state.flesh) + grower.bias + normal())) }));

/** What is known of a lot on a day. */
export const lookedAt = ({ grower, course, temperatureC }: Lot, day: number, tastings: readonly Tasting[], guess?: GrowerGuess): ForecastInput => ({
  batch: { cut: grower.cut, maturity: 'green', startedAt: 0, fruitKg: 10, brineL: 8.0925 },
  temperatures: Array.from({ length: Math.ceil(day) + 1 }, (_, i) => ({ t: Math.min(i, day) * dayMs, temperatureC })),
  changes: course.changes.filter((change) => change.at <= day * dayMs),
  plannedChanges: course.changes.filter((change) => change.at > day * dayMs),
  tastings,
  now: day * dayMs,
  ...(guess === undefined ? {} : { guess }),
});

/** A finished lot as the grower's next forecast sees it: by the model's own guesses of everything but the rate. */
export const rememberedAs = ({ grower, course, temperatureC }: Lot, tastings: readonly Tasting[]): TastedCure => ({
  course: steadyCourse({ cut: grower.cut, temperatureC, changeDays: course.changes.map(({ at }) => at / dayMs), ratio: 1.5, startingFlesh: 1 }),
  tastings,
});

/** Days of tastings every few days, from the second week on, up to a day. */
export const tastedEvery = (days: number, upTo: number): number[] => Array.from({ length: Math.max(0, Math.floor((upTo - 7) / days) + 1) }, (_, i) => 7 + i * days);
