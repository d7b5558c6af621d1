import type { Result } from '../result.ts';
import { ok } from '../result.ts';
import type { OutsideValidRange } from '../valid-range.ts';
import { findOutside, outsideValidRange } from '../valid-range.ts';
import { jarRange, leastFillFraction } from './jar-fill.ts';

export interface Headspace {
  readonly headspaceMl: number;
  readonly fillFraction: number;
  /** Filled to at least 0.90 of the water capacity. */
  readonly enough: boolean;
}

/**
 * Headspace as a ruler measures it, in millilitres and as a fill.
 *
 * V = π/4 · d² · h; fill = 1 - V / jar, where the jar's volume is its water capacity to the brim.
 *
 * Source: volume of a cylinder (the jar's mouth); least fill of the table olive glossary of the International Olive Council.
 * Units: mm, mL. Valid range: headspace 0 to 100 mm, inner diameter 20 to 300 mm, less than the whole jar.
 * Example: 10 mm under the brim of a 70 mm mouth are 38.5 mL; in a 720 mL jar that is a fill of 0.947.
 */
export const headspace = (headspaceMm: number, innerDiameterMm: number, jarMl: number): Result<Headspace, OutsideValidRange> => {
  const outside = findOutside(
    { headspaceMm, innerDiameterMm, jarMl },
    { headspaceMm: { low: 0, high: 100, unit: 'mm' }, innerDiameterMm: { low: 20, high: 300, unit: 'mm' }, jarMl: jarRange },
  );
  if (outside !== null) return outside;
  const headspaceMl = ((Math.PI / 4) * innerDiameterMm ** 2 * headspaceMm) / 1_000;
  if (headspaceMl >= jarMl) return outsideValidRange('headspaceMm', 'headspaceMm would be the whole jar');
  const fillFraction = 1 - headspaceMl / jarMl;
  return ok({ headspaceMl, fillFraction, enough: fillFraction >= leastFillFraction });
};
