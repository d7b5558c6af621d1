import type { Result } from '../result.ts';
import { ok } from '../result.ts';
import type { OutsideValidRange, ValidRange } from '../valid-range.ts';
import { findOutside } from '../valid-range.ts';

export interface AcidDose {
  readonly acidMl: number;
  /** Acetic acid this adds, g per 100 mL of the liquid after adding. */
  readonly aceticPercentAdded: number;
}

export const acidDoseRanges = {
  benchMl: { low: 1, high: 100_000, unit: 'mL' },
  benchAcidMl: { low: 0, high: 100_000, unit: 'mL' },
  brineL: { low: 0.01, high: 20_000, unit: 'L' },
  acidPercent: { low: 0.1, high: 80, unit: 'g/100 mL' },
} as const satisfies Record<string, ValidRange>;

/**
 * A bench dose scaled to the drum: the same millilitres per litre.
 *
 * acid = benchAcid · brine / bench; acetic added % = acid · strength / (brine + acid).
 *
 * Source: proportion. It holds when the bench sample had the same share of fruit and brine as the drum: a dose found on brine alone is too small,
 * because the fruit takes up acid and buffers it; `benchTrial` scales by the mass of fruit and brine together. Measure the drum afterwards anyway.
 * Example: 30 mL of 5 % vinegar in 1 L brought the bench to its pH: 20 L take 600 mL, 0.146 % acetic.
 */
export const acidDose = (benchMl: number, benchAcidMl: number, brineL: number, acidPercent: number): Result<AcidDose, OutsideValidRange> => {
  const outside = findOutside({ benchMl, benchAcidMl, brineL, acidPercent }, acidDoseRanges);
  if (outside !== null) return outside;
  const acidMl = (benchAcidMl * brineL * 1_000) / benchMl;
  return ok({ acidMl, aceticPercentAdded: (acidMl * acidPercent) / (brineL * 1_000 + acidMl) });
};

export const acidDoseSource = 'Proportion of a bench trial; the pH reached must still be measured';
