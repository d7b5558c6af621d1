import { brineStrength } from '../brine/bases.ts';
import type { Result } from '../result.ts';
import { ok } from '../result.ts';
import type { OutsideValidRange, ValidRange } from '../valid-range.ts';
import { findOutside } from '../valid-range.ts';

export interface BenchPlanInput {
  /** Drained fruit in each jar. */
  readonly fruitG?: number | undefined;
  /** Brine in the jar without vinegar. */
  readonly brineG?: number | undefined;
  readonly brinePercentWw: number;
  readonly vinegarPercent?: number | undefined;
  /** Largest dose tried, in mL of 5 % vinegar per 335 g jar. */
  readonly largestMl?: number | undefined;
}

export interface BenchJar {
  readonly jar: number;
  readonly fruitG: number;
  readonly brineMl: number;
  readonly vinegarMl: number;
  /** Dry salt that replaces what the brine left out would have brought. */
  readonly saltG: number;
}

export interface BenchPlan {
  readonly jars: readonly BenchJar[];
  readonly jarMassG: number;
  /** Days after filling on which a split sample is blended and measured. */
  readonly measureOnDays: readonly number[];
  readonly brineL: number;
  readonly vinegarMl: number;
  readonly fruitKg: number;
  readonly assumed: readonly string[];
}

export const benchPlanDefaults = { fruitG: 200, brineG: 135, vinegarPercent: 5, largestMl: 28 } as const;

export const benchPlanRanges = {
  fruitG: { low: 50, high: 2_000, unit: 'g' },
  brineG: { low: 30, high: 2_000, unit: 'g' },
  brinePercentWw: { low: 0, high: 20, unit: '% w/w' },
  vinegarPercent: { low: 3, high: 30, unit: 'g/100 mL' },
  largestMl: { low: 8, high: 80, unit: 'mL' },
} as const satisfies Record<string, ValidRange>;

/** On the third reading the acid is in the fruit; earlier ones only show that it is on its way (whole olives may take three weeks). */
export const benchDays = [1, 3, 7] as const;
export const benchJars = 5;

/**
 * Five jars with rising vinegar in place of brine, salt kept equal: what to weigh and pour.
 *
 * Vinegar of jar i = (i/4) · largest · (5 / strength) · (jar mass / 335 g); brine = brine - vinegar by volume; salt = vinegar mL · g/L of brine.
 *
 * Source: common practice, no source. Each jar holds the same fruit and the same liquid, so that only the acid differs; salt slows and
 * shifts nothing then. Units: g, mL, % w/w at 20 °C, % vinegar in g/100 mL. Valid range: `benchPlanRanges`, and vinegar no more than half the liquid.
 * Example: 200 g and 135 g of 8 % brine: 0, 7, 14, 21, 28 mL; the last jar holds 99.9 mL of brine, 28 mL of vinegar and 2.37 g of salt.
 */
export const benchPlan = (input: BenchPlanInput): Result<BenchPlan, OutsideValidRange> => {
  const { fruitG = benchPlanDefaults.fruitG, brineG = benchPlanDefaults.brineG, brinePercentWw, vinegarPercent = benchPlanDefaults.vinegarPercent, largestMl = benchPlanDefaults.largestMl } = input;
  const outside = findOutside({ fruitG, brineG, brinePercentWw, vinegarPercent, largestMl }, benchPlanRanges);
  if (outside !== null) return outside;
  const strength = brineStrength(brinePercentWw, 20);
  if (!strength.ok) return strength;
  const { densityKgPerM3, gPerL } = strength.value;
  const jarMassG = fruitG + brineG;
  const liquidMl = (brineG / densityKgPerM3) * 1_000;
  const mostMl = largestMl * (benchPlanDefaults.vinegarPercent / vinegarPercent) * (jarMassG / (benchPlanDefaults.fruitG + benchPlanDefaults.brineG));
  const tooMuch = findOutside({ largestMl: mostMl }, { largestMl: { low: 0, high: liquidMl / 2, unit: 'mL, half of the liquid' } });
  if (tooMuch !== null) return tooMuch;
  const jars = Array.from({ length: benchJars }, (_, i): BenchJar => {
    const vinegarMl = (mostMl * i) / (benchJars - 1);
    return { jar: i + 1, fruitG, brineMl: liquidMl - vinegarMl, vinegarMl, saltG: (vinegarMl * gPerL) / 1_000 };
  });
  const sum = (part: (jar: BenchJar) => number): number => jars.reduce((total, jar) => total + part(jar), 0);
  const assumed = (['fruitG', 'brineG', 'vinegarPercent', 'largestMl'] as const).filter((name) => input[name] === undefined);
  return ok({ jars, jarMassG, measureOnDays: benchDays, brineL: sum(({ brineMl }) => brineMl) / 1_000, vinegarMl: sum(({ vinegarMl }) => vinegarMl), fruitKg: sum((jar) => jar.fruitG) / 1_000, assumed });
};
