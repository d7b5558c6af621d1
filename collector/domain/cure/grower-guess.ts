import type { Cut } from './batch.ts';
import { leachingRates } from './leaching-defaults.ts';
import type { LeachingPrior, TastedCure } from './leaching-fit.ts';
import { eightyPercent, fitLeaching, leachingPriorSd } from './leaching-fit.ts';

/** What a grower's earlier cures of one cut say about the next one. */
export interface GrowerGuess extends LeachingPrior {
  readonly cures: number;
  readonly tastings: number;
}

/**
 * A grower's own starting guess: one rate fitted to all earlier tastings of the cut, then widened because lots differ.
 *
 * sd² = (spread of the fit)² + 0.45² (1 + 1/n), never more than the general 0.7: the next lot differs from the grower's own middle, and n
 * lots tell that middle only so well.
 *
 * Source: as `fitLeaching`; 0.45 (×/÷ 1.6 from lot to lot of one grower, what hides in it of their starting bitterness included) is an assumption.
 * Cures without tastings add nothing; without any the general guess is returned.
 */
export const growerGuess = (cut: Cut, earlier: readonly TastedCure[]): GrowerGuess => {
  const tasted = earlier.filter((cure) => cure.tastings.length > 0);
  const fit = fitLeaching(tasted, { perDay: leachingRates[cut].perDay, sd: leachingPriorSd });
  if (tasted.length === 0) return { perDay: fit.leachingPerDay, sd: leachingPriorSd, cures: 0, tastings: 0 };
  const spread = Math.log(fit.high / fit.low) / (2 * eightyPercent);
  return {
    perDay: fit.leachingPerDay,
    sd: Math.min(leachingPriorSd, Math.hypot(spread, lotToLotSd * Math.sqrt(1 + 1 / tasted.length))),
    cures: tasted.length,
    tastings: tasted.reduce((sum, cure) => sum + cure.tastings.length, 0),
  };
};

const lotToLotSd = 0.45;
