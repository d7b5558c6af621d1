import type { Result } from '../result.ts';
import { ok } from '../result.ts';
import type { OutsideValidRange } from '../valid-range.ts';
import { findOutside } from '../valid-range.ts';

/**
 * Time constant of a drum from its size, until enough readings are there to fit its own.
 *
 * τ = C V / (U A), upright cylinder 1.4 times as high as wide, both ends exposed: A = 1.9 π D², V = 0.35 π D³.
 *
 * Source: lumped heat balance; heat capacity of fruit and brine 3.62 kJ/(L·K) and U 6.5 W/(m²·K) indoors (5 to 8; outdoors in wind 10
 * to 25) are assumptions from heat transfer at a plastic wall. An insulating base adds 10 to 20 %.
 * Units: L, W/(m²·K), hours. Valid range: 1 to 2,000 L, U 0.5 to 30.
 * Example: 60 L with U 5 gives 14.0 h; 200 L with U 8, 13.1 h.
 */
export const estimateTimeConstantHours = (
  volumeL: number,
  transferWPerM2K: number = indoorTransfer,
): Result<number, OutsideValidRange> => {
  const outside = findOutside(
    { volumeL, transferWPerM2K },
    { volumeL: { low: 1, high: 2_000, unit: 'L' }, transferWPerM2K: { low: 0.5, high: 30, unit: 'W/(m²·K)' } },
  );
  if (outside !== null) return outside;
  const diameterM = Math.cbrt(volumeL / 1_000 / (0.35 * Math.PI));
  const areaM2 = 1.9 * Math.PI * diameterM ** 2;
  return ok((heatCapacityKjPerLK * 1_000 * volumeL) / (transferWPerM2K * areaM2) / 3_600);
};

const indoorTransfer = 6.5;
const heatCapacityKjPerLK = 3.62;
