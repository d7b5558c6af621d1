import type { Result } from '../result.ts';
import { ok } from '../result.ts';
import type { OutsideValidRange, ValidRange } from '../valid-range.ts';
import { findOutside, outsideValidRange } from '../valid-range.ts';

/** One jar of the trial: acid added, and the pH of blended fruit and brine after the waiting time. */
export interface TrialJar {
  readonly acidMl: number;
  readonly ph: number;
}

export interface BenchTrial {
  readonly jars: readonly TrialJar[];
  /** Fruit and brine in each jar, in grams. */
  readonly jarMassG: number;
  readonly targetPh: number;
  /** Fruit and brine in the batch, in kilograms. */
  readonly batchKg: number;
}

export interface BenchDose {
  /** Acid per jar where the line crosses the target. */
  readonly jarAcidMl: number;
  readonly batchAcidMl: number;
  /** The two jars it lies between; the dose was not tried itself. */
  readonly between: readonly [TrialJar, TrialJar];
}

export const benchTrialRanges = {
  jarMassG: { low: 10, high: 20_000, unit: 'g' },
  targetPh: { low: 3, high: 4.6, unit: '' },
  batchKg: { low: 0.1, high: 20_000, unit: 'kg' },
  acidMl: { low: 0, high: 5_000, unit: 'mL' },
  ph: { low: 2, high: 9, unit: '' },
} as const satisfies Record<string, ValidRange>;

/** 4.3 (Codex limit) less 0.1 for the meter in brine and 0.1 for the spread between jars (assumption). */
export const defaultTargetPh = 4.1;

/**
 * The acid for a target pH from a bench trial with several doses, scaled to the batch.
 *
 * Straight line between the two doses around the target; batch dose = jar dose · batch mass / jar mass, masses of fruit and brine together.
 *
 * Source: common practice, no source. Where pH does not fall steadily from jar to jar, the crossing at the largest dose counts, so that noise
 * never makes the dose smaller. Nothing is extrapolated: a target that the largest dose did not reach, or that the smallest dose already
 * passed, is refused (field `targetPh`). The pack must be measured anyway; the answer is a place to start, not an approval.
 * Valid range: `benchTrialRanges`, two jars or more with different doses (field `jars`).
 * Example: 335 g jars with 7 mL → 4.22 and 14 mL → 4.02, target 4.1: 11.2 mL a jar, 1838 mL for 55 kg.
 */
export const benchTrial = ({ jars, jarMassG, targetPh, batchKg }: BenchTrial): Result<BenchDose, OutsideValidRange> => {
  const outside = findOutside({ jarMassG, targetPh, batchKg }, { jarMassG: benchTrialRanges.jarMassG, targetPh: benchTrialRanges.targetPh, batchKg: benchTrialRanges.batchKg });
  if (outside !== null) return outside;
  const byDose = jars.toSorted((a, b) => a.acidMl - b.acidMl);
  const sound = byDose.every(({ acidMl, ph }) => findOutside({ acidMl, ph }, { acidMl: benchTrialRanges.acidMl, ph: benchTrialRanges.ph }) === null);
  if (!sound || byDose.length < 2) return outsideValidRange('jars', 'jars must be two or more, each with 0 to 5000 mL and pH 2 to 9');
  if (byDose.some(({ acidMl }, i) => i > 0 && acidMl === byDose[i - 1]?.acidMl)) return outsideValidRange('jars', 'jars must have different doses: take the higher pH of two equal ones');
  const lastAbove = byDose.findLastIndex(({ ph }) => ph > targetPh);
  const above = byDose[lastAbove];
  const below = byDose[lastAbove + 1];
  if (below === undefined) return outsideValidRange('targetPh', 'targetPh was not reached by the largest dose tried: try larger ones, a dose is not extrapolated');
  if (above === undefined) return outsideValidRange('targetPh', 'targetPh was already passed by the smallest dose tried: add jars with less acid and one with none');
  const jarAcidMl = above.acidMl + ((below.acidMl - above.acidMl) * (above.ph - targetPh)) / (above.ph - below.ph);
  return ok({ jarAcidMl, batchAcidMl: (jarAcidMl * batchKg * 1_000) / jarMassG, between: [above, below] });
};
