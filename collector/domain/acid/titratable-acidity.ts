import type { Result } from '../result.ts';
import { ok } from '../result.ts';
import type { OutsideValidRange, ValidRange } from '../valid-range.ts';
import { findOutside } from '../valid-range.ts';

/** Acids an olive brine is stated in, by gram per equivalent. */
export const acidEquivalentG = { lactic: 90.08, acetic: 60.05 } as const;
export type Acid = keyof typeof acidEquivalentG;

export interface Titration {
  /** Base used to the end point (pH 8.2 or phenolphthalein). */
  readonly baseMl: number;
  readonly baseNormality: number;
  /** Sample in mL for g/100 mL, or in g for g/100 g. */
  readonly sample: number;
}

export const titrationRanges = {
  baseMl: { low: 0, high: 200, unit: 'mL' },
  baseNormality: { low: 0.005, high: 2, unit: 'mol/L' },
  sample: { low: 0.1, high: 1_000, unit: 'mL or g' },
} as const satisfies Record<string, ValidRange>;

/**
 * Titratable acidity in per cent of one acid.
 *
 * % = V · N · equivalent weight / (10 · sample): g per 100 mL for a sample in mL, g per 100 g for a sample in g.
 *
 * Source: AOAC form, as in V·N·60.052·100/(1000·S) for acetic acid. The same titration is 1.5 times as much lactic as acetic: always name the acid.
 * Units: mL, mol/L, mL or g. Valid range: `titrationRanges`. It counts every acid, also combined salts near the end point.
 * Example: 10 mL of brine, 7.55 mL of 0.1 mol/L base: 0.68 % as lactic, 0.45 % as acetic.
 */
export const titratableAcidity = ({ baseMl, baseNormality, sample }: Titration, acid: Acid): Result<number, OutsideValidRange> =>
  findOutside({ baseMl, baseNormality, sample }, titrationRanges) ?? ok((baseMl * baseNormality * acidEquivalentG[acid]) / (10 * sample));

/** The same acidity stated as the other acid, by equivalents. Example: 0.45 % acetic is 0.675 % lactic. */
export const acidityAs = (percent: number, from: Acid, to: Acid): number => (percent * acidEquivalentG[to]) / acidEquivalentG[from];
