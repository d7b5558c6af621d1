import type { Result } from '../result.ts';
import { ok } from '../result.ts';
import type { OutsideValidRange, ValidRange } from '../valid-range.ts';
import { findOutside, outsideValidRange } from '../valid-range.ts';
import { densityInRange } from './density.ts';
import { brineRanges } from './range.ts';

export interface Portion {
  readonly volumeL: number;
  readonly percentWw: number;
}

export interface Blend extends Portion {
  readonly saltG: number;
}

export const portionRanges = {
  volumeL: { low: 0, high: 5_000, unit: 'L' },
  percentWw: brineRanges.percentWw,
  temperatureC: brineRanges.temperatureC,
} as const satisfies Record<string, ValidRange>;

/**
 * What brines (or water, 0 % w/w) poured together make: topping up, thinning, strengthening with a stock brine.
 *
 * w = Σ V_i ρ_i w_i / Σ V_i ρ_i;  V = Σ V_i ρ_i / ρ(w, t).
 *
 * Source: mass balance with `brineDensity`, all at one temperature. Strengths weighted by volume would be slightly off, because strong
 * brine is heavier. Valid range: `portionRanges`, at least one portion above 0 L.
 * Example: 3 L of water into 41.9 L at 6.0 % w/w (brine and flesh water together) gives 5.6 %.
 */
export const blend = (portions: readonly Portion[], temperatureC: number): Result<Blend, OutsideValidRange> => {
  let massG = 0;
  let saltG = 0;
  for (const { volumeL, percentWw } of portions) {
    const outside = findOutside({ volumeL, percentWw, temperatureC }, portionRanges);
    if (outside !== null) return outside;
    const portionG = volumeL * densityInRange(percentWw, temperatureC);
    massG += portionG;
    saltG += (portionG * percentWw) / 100;
  }
  if (!(massG > 0)) return outsideValidRange('volumeL', 'at least one portion must be more than nothing');
  const percentWw = (100 * saltG) / massG;
  return ok({ volumeL: massG / densityInRange(percentWw, temperatureC), percentWw, saltG });
};

/**
 * How much of a stronger (or weaker) brine to exchange for the same volume drawn off, so that a brine of fixed volume gets a strength.
 *
 * Source: `blend` solved for the volume; drawing first, then pouring, on a mixed brine. By mass: x = (w* - w)/(w_stock - w).
 * Valid range: the target lies between the two strengths. Example: 6.0 to 8.0 % with 25 % stock in 26.5 L: draw 2.79 L, pour 2.44 L.
 */
export const exchangeFor = (brine: Portion, stockPercentWw: number, targetPercentWw: number, temperatureC: number): Result<{ readonly drawL: number; readonly pourL: number }, OutsideValidRange> => {
  const outside = findOutside({ ...brine, temperatureC }, portionRanges)
    ?? findOutside({ stockPercentWw, targetPercentWw }, { stockPercentWw: brineRanges.percentWw, targetPercentWw: brineRanges.percentWw });
  if (outside !== null) return outside;
  const share = (targetPercentWw - brine.percentWw) / (stockPercentWw - brine.percentWw);
  if (!(share >= 0 && share <= 1)) return outsideValidRange('targetPercentWw', 'targetPercentWw must lie between the brine and the stock');
  const massG = brine.volumeL * densityInRange(brine.percentWw, temperatureC);
  return ok({ drawL: brine.volumeL * share, pourL: (massG * share) / densityInRange(stockPercentWw, temperatureC) });
};
