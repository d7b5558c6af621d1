import type { Cut, Maturity } from './batch.ts';

/**
 * Starting guesses of the leaching model. All are assumptions: no published table of bitterness against days was found, so they are
 * chosen to agree with a handful of published end points, and are replaced by the grower's own tastings.
 */
export interface RateGuess {
  readonly perDay: number;
  readonly low: number;
  readonly high: number;
}

/** Leaching rate at 20 °C by cut. Whole fruit is slow because its skin is a barrier; peeling brined cucumbers sped them 3.7 to 11.1 times (Potts 1986). */
export const leachingRates: Readonly<Record<Cut, RateGuess>> = {
  whole: { perDay: 0.02, low: 0.01, high: 0.04 },
  slit: { perDay: 0.08, low: 0.04, high: 0.16 },
  cracked: { perDay: 0.2, low: 0.08, high: 0.35 },
  pitted: { perDay: 0.25, low: 0.1, high: 0.5 },
};

/** Breakdown of the bitter substance by enzymes, acid and microbes, lumped, at 20 °C. */
export const hydrolysisRate: RateGuess = { perDay: 0.0045, low: 0.002, high: 0.01 };

/** Activation energies in kJ/mol. Plain diffusion shows 18 to 27 (Potts 1986), chemistry 70 to 98; leaching lies between. */
export const leachingActivationEnergy = 40;
export const hydrolysisActivationEnergy = 75;

/** Bitter substance in the flesh at the start; a fresh green fruit is 1. */
export const startingFlesh: Readonly<Record<Maturity, number>> = { green: 1, turning: 0.7, black: 0.4 };

/** Where a grower may stop: pleasantly bitter, or sweet. */
export const endPoints = ['pleasant', 'sweet'] as const;
export type EndPoint = (typeof endPoints)[number];
export const endPointFlesh: Readonly<Record<EndPoint, number>> = { pleasant: 0.25, sweet: 0.1 };

/** Share of the fruit that is stone (range 0.12 to 0.25), and of the flesh that is water (0.55 to 0.75). */
export const defaultStoneFraction = 0.17;
export const defaultFleshMoisture = 0.65;
