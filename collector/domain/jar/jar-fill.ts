import type { Result } from '../result.ts';
import { ok } from '../result.ts';
import type { OutsideValidRange, ValidRange } from '../valid-range.ts';
import { findOutside } from '../valid-range.ts';

export interface JarFill {
  readonly fruitKg: number;
  readonly fruitMl: number;
  readonly brineMl: number;
  readonly headspaceMl: number;
}

export const packingRange = { low: 0.2, high: 0.75, unit: 'kg/L' } as const satisfies ValidRange;
export const jarRange = { low: 20, high: 20_000, unit: 'mL' } as const satisfies ValidRange;

/**
 * What one jar holds: fruit, the brine between it, and the headspace above.
 *
 * Fruit = jar × packing; brine = jar × fill - fruit / density; headspace = jar × (1 - fill).
 *
 * Source: fill of at least 0.90 of the water capacity, table olive glossary of the International Olive Council; packing of 0.55 kg/L whole,
 * 0.50 cut, between trade drained weights of 0.53 to 0.65 (assumption); fruit density 1.04 kg/L inside the published 1.02 to 1.06.
 * Units: mL, kg, kg/L. Valid range: jar 20 to 20,000 mL, packing 0.2 to 0.75 kg/L, fill 0.8 to 1.
 * Example: a 720 mL jar of whole fruit holds 0.396 kg (381 mL) and 267 mL of brine under 72 mL of headspace.
 */
export const jarFill = (
  jarMl: number,
  packingKgPerL: number = wholePackingKgPerL,
  fillFraction: number = leastFillFraction,
): Result<JarFill, OutsideValidRange> => {
  const outside = findOutside(
    { jarMl, packingKgPerL, fillFraction },
    { jarMl: jarRange, packingKgPerL: packingRange, fillFraction: { low: 0.8, high: 1, unit: '' } },
  );
  if (outside !== null) return outside;
  const fruitKg = (jarMl / 1_000) * packingKgPerL;
  const fruitMl = (fruitKg / fruitDensityKgPerL) * 1_000;
  return ok({ fruitKg, fruitMl, brineMl: jarMl * fillFraction - fruitMl, headspaceMl: jarMl * (1 - fillFraction) });
};

export const wholePackingKgPerL = 0.55;
export const cutPackingKgPerL = 0.5;
export const leastFillFraction = 0.9;
export const fruitDensityKgPerL = 1.04;
