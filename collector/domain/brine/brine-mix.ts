import type { Result } from '../result.ts';
import { ok } from '../result.ts';
import type { OutsideValidRange, ValidRange } from '../valid-range.ts';
import { findOutside } from '../valid-range.ts';
import { densityInRange } from './density.ts';
import { brineRanges } from './range.ts';
import type { SaltKind, Spread } from './salt-kind.ts';
import { gramsPerCup } from './salt-kind.ts';
import { waterDensity } from './water-density.ts';

export interface BrineMix {
  readonly saltG: number;
  /** Water to measure out, at the same temperature. */
  readonly waterL: number;
  /** Level US cups of a kind of salt: the light one of the spread needs the most cups. */
  readonly cups?: Spread;
}

export const brineMixRanges = {
  brineL: { low: 0.01, high: 5_000, unit: 'L' },
  targetPercentWw: brineRanges.percentWw,
  temperatureC: brineRanges.temperatureC,
} as const satisfies Record<string, ValidRange>;

/**
 * Salt and water for a volume of brine of a strength.
 *
 * mass = volume · ρ(w, t); salt = mass · w; water = mass · (1 - w) / ρ_water(t).
 *
 * Source: mass balance with `brineDensity`. Volumes do not add up: the salt goes partly between the water, so the answer is not
 * brine minus salt volume. Units: L, % w/w, °C, g. Valid range: `brineMixRanges`.
 * Example: 10 L of 8 % w/w at 20 °C is 844.7 g of salt and 9.73 L of water.
 */
export const brineMix = (brineL: number, targetPercentWw: number, temperatureC: number, saltKind?: SaltKind): Result<BrineMix, OutsideValidRange> => {
  const outside = findOutside({ brineL, targetPercentWw, temperatureC }, brineMixRanges);
  if (outside !== null) return outside;
  const massG = brineL * densityInRange(targetPercentWw, temperatureC);
  const saltG = (massG * targetPercentWw) / 100;
  const mix = { saltG, waterL: (massG - saltG) / waterDensity(temperatureC) };
  if (saltKind === undefined) return ok(mix);
  const { value, low, high } = gramsPerCup[saltKind];
  return ok({ ...mix, cups: { value: saltG / value, low: saltG / high, high: saltG / low } });
};
