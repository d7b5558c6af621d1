import type { Result } from '../result.ts';
import { ok } from '../result.ts';
import type { OutsideValidRange, ValidRange } from '../valid-range.ts';
import { findOutside } from '../valid-range.ts';

export interface AceticBalance {
  /** In the liquid poured, g per 100 mL. */
  readonly pouredPercent: number;
  /** Once the water of the fruit has taken its share. */
  readonly settledPercent: number;
  readonly aceticG: number;
}

export const aceticRanges = {
  brineL: { low: 0.01, high: 20_000, unit: 'L' },
  vinegarMl: { low: 0, high: 1_000_000, unit: 'mL' },
  vinegarPercent: { low: 0.1, high: 80, unit: 'g/100 mL' },
  fleshWaterL: { low: 0, high: 20_000, unit: 'L' },
} as const satisfies Record<string, ValidRange>;

/**
 * Acetic acid when vinegar is poured into brine, and after it has spread into the fruit.
 *
 * g = mL · % / 100; poured % = g / (10 · (brine + vinegar)); settled % = g / (10 · (brine + vinegar + flesh water)), volumes in L.
 *
 * Source: mass balance, volumes taken as additive. It says how much acid there is, not which pH that makes: olives buffer, the same dose
 * has given pH 3.8 to 4.7 (assumed span), so the dose for a pH comes from a bench trial.
 * Example: 10 parts of brine and 1 part of 5 % vinegar: 0.45 % poured, 0.29 % with 0.63 parts of flesh water per part of brine.
 */
export const aceticBalance = (brineL: number, vinegarMl: number, vinegarPercent: number, fleshWaterL: number): Result<AceticBalance, OutsideValidRange> => {
  const outside = findOutside({ brineL, vinegarMl, vinegarPercent, fleshWaterL }, aceticRanges);
  if (outside !== null) return outside;
  const aceticG = (vinegarMl * vinegarPercent) / 100;
  const liquidL = brineL + vinegarMl / 1_000;
  return ok({ aceticG, pouredPercent: aceticG / (10 * liquidL), settledPercent: aceticG / (10 * (liquidL + fleshWaterL)) });
};
