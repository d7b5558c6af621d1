import type { Result } from '../result.ts';
import { ok } from '../result.ts';
import type { OutsideValidRange, ValidRange } from '../valid-range.ts';
import { findOutside, outsideValidRange } from '../valid-range.ts';
import { brineRanges } from './range.ts';
import type { SaltKind, Spread } from './salt-kind.ts';
import { gramsPerCup } from './salt-kind.ts';
import { waterDensity } from './water-density.ts';

export interface SaltByCup {
  readonly saltG: Spread;
  /** Strength of the brine poured, before the fruit takes its share. */
  readonly percentWw: Spread;
}

export const saltByCupRanges = {
  cups: { low: 0, high: 1_000, unit: 'US cups' },
  waterL: { low: 0.05, high: 5_000, unit: 'L' },
} as const satisfies Record<string, ValidRange>;

/**
 * What a recipe in cups comes to: grams of salt and % w/w, with the spread of the kind of salt.
 *
 * salt = cups · g per cup; % w/w = 100 · salt / (salt + water), water at 20 °C (0.9982 kg/L).
 *
 * Source: mass balance; cup weights in `gramsPerCup`. Valid range: `saltByCupRanges`, and no stronger than saturation.
 * Example: 0.75 cup in one US gallon is 5.4 % w/w of table salt (5.1 to 5.7) and 2.7 % of light flake: half.
 */
export const saltByCup = (cups: number, saltKind: SaltKind, waterL: number): Result<SaltByCup, OutsideValidRange> => {
  const outside = findOutside({ cups, waterL }, saltByCupRanges);
  if (outside !== null) return outside;
  const perCup = gramsPerCup[saltKind];
  const saltG = eachOf(perCup, (grams) => cups * grams);
  const percentWw = eachOf(saltG, (grams) => (100 * grams) / (grams + waterL * waterDensity(20)));
  if (percentWw.high > brineRanges.percentWw.high) return outsideValidRange('cups', `cups of ${saltKind} salt are more than ${waterL} L of water can dissolve`);
  return ok({ saltG, percentWw });
};

export const eachOf = ({ value, low, high }: Spread, compute: (number: number) => number): Spread => ({ value: compute(value), low: compute(low), high: compute(high) });
