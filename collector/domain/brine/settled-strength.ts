import type { Result } from '../result.ts';
import { ok } from '../result.ts';
import type { OutsideValidRange, ValidRange } from '../valid-range.ts';
import { findOutside, outsideValidRange } from '../valid-range.ts';
import { densityInRange } from './density.ts';
import type { Portion } from './blend.ts';
import { portionRanges } from './blend.ts';
import { brineRanges } from './range.ts';

const fleshRange = { fleshWaterKg: { low: 0, high: 20_000, unit: 'kg' } } as const satisfies Record<string, ValidRange>;

/** Salt and water of a brine, in kg. */
const split = ({ volumeL, percentWw }: Portion, temperatureC: number): { readonly saltKg: number; readonly waterKg: number } => {
  const massKg = (volumeL * densityInRange(percentWw, temperatureC)) / 1_000;
  return { saltKg: (massKg * percentWw) / 100, waterKg: massKg * (1 - percentWw / 100) };
};

/**
 * The strength a poured brine settles at with fresh fruit, in % w/w (salt in all the water there is).
 *
 * w_eq = 100·S / (S + W_brine + W_flesh)
 *
 * Source: mass balance. It is the number a limit is about: Codex limits hold after osmotic balance, not on the day of pouring.
 * Units: L, % w/w, kg, °C. Example: 26.5 L at 10.0 % on 15.4 kg of flesh water settles at 6.5 %.
 */
export const settledPercentWw = (brine: Portion, fleshWaterKg: number, temperatureC: number): Result<number, OutsideValidRange> => {
  const outside = findOutside({ ...brine, temperatureC }, portionRanges) ?? findOutside({ fleshWaterKg }, fleshRange);
  if (outside !== null) return outside;
  const { saltKg, waterKg } = split(brine, temperatureC);
  if (!(waterKg > 0)) return outsideValidRange('volumeL', 'volumeL must be more than nothing');
  return ok((100 * saltKg) / (saltKg + waterKg + fleshWaterKg));
};

/**
 * The strength to pour so that brine and fresh fruit settle at a target.
 *
 * All the water W_b + W_f must carry w* to (100 - w*) of salt; W_b itself depends on the strength poured, so the balance is solved for it:
 * the volume is what is given, and strong brine holds less water. Found by substitution, which closes in by a factor of ten or more a round.
 *
 * Source: `settledPercentWw` turned round. Valid range: an answer no stronger than saturated brine.
 * Example: 26.5 L on 15.4 kg of flesh water: to land on 6, 7 and 8 % pour 9.3, 10.8 and 12.3 %.
 */
export const pouredPercentWwFor = (targetPercentWw: number, volumeL: number, fleshWaterKg: number, temperatureC: number): Result<number, OutsideValidRange> => {
  const outside = findOutside({ targetPercentWw }, { targetPercentWw: brineRanges.percentWw })
    ?? findOutside({ volumeL, percentWw: 0, temperatureC }, portionRanges) ?? findOutside({ fleshWaterKg }, fleshRange);
  if (outside !== null) return outside;
  const tooMuch = outsideValidRange('targetPercentWw', 'targetPercentWw needs a brine stronger than saturated: change the brine more than once');
  const saltPerWater = targetPercentWw / (100 - targetPercentWw);
  let percentWw = targetPercentWw;
  for (let round = 0; round < 30; round++) {
    const { waterKg } = split({ volumeL, percentWw }, temperatureC);
    if (!(waterKg > 0)) return outsideValidRange('volumeL', 'volumeL must be more than nothing');
    const saltKg = saltPerWater * (waterKg + fleshWaterKg);
    percentWw = (100 * saltKg) / (saltKg + waterKg);
    if (!(percentWw <= brineRanges.percentWw.high)) return tooMuch;
  }
  return ok(percentWw);
};

/**
 * Dry salt that lifts an amount of water from one strength to another: the brine's water alone, or brine and fruit together.
 *
 * S = W·[w₂/(100 - w₂) - w₁/(100 - w₁)]
 *
 * Source: mass balance. Dosing for the brine alone is the usual mistake: the fruit takes its share again.
 * Example: 6 to 8 % takes 0.95 kg for 40.95 kg of water (drum and fruit); for the 26.5 kg of the brine alone 0.61 kg.
 */
export const dryLiftG = (waterKg: number, fromPercentWw: number, toPercentWw: number): Result<number, OutsideValidRange> => {
  const outside = findOutside({ waterKg, fromPercentWw, toPercentWw }, { waterKg: fleshRange.fleshWaterKg, fromPercentWw: brineRanges.percentWw, toPercentWw: brineRanges.percentWw });
  if (outside !== null) return outside;
  if (toPercentWw < fromPercentWw) return outsideValidRange('toPercentWw', 'toPercentWw must not be below fromPercentWw: salt cannot be taken out by adding salt');
  return ok(1_000 * waterKg * (toPercentWw / (100 - toPercentWw) - fromPercentWw / (100 - fromPercentWw)));
};
