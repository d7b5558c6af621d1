import type { Bitterness } from './batch.ts';

/**
 * The score a taster is likely to give.
 *
 * S = 10 + 10 · log10(C_f), held between 0 and 10.
 *
 * Source: assumption (taste follows the logarithm of concentration; 1 → 10, 0.25 → 4, 0.10 → 0).
 * Units: flesh relative to fresh green fruit; score on the grower's 0 to 10 scale. Valid range: C_f > 0.
 * Example: 0.25 gives 3.98.
 */
export const tastingScore = (flesh: number): Bitterness => Math.min(10, Math.max(0, 10 + 10 * Math.log10(flesh)));

/**
 * The bitterness of the flesh that is likely to be given a score; the inverse of the above where it is not held.
 *
 * C_f = 10^((S - 10) / 10). Example: 1 gives 0.126.
 */
export const fleshAtScore = (score: Bitterness): number => 10 ** ((score - 10) / 10);

/** Spread of one tasting about the model, in score points (assumption). */
export const tastingSd = 1;
