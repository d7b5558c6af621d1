import type { Result } from '../result.ts';
import { ok } from '../result.ts';
import type { OutsideValidRange, ValidRange } from '../valid-range.ts';
import { findOutside } from '../valid-range.ts';
import { bisectRising } from './bisect.ts';
import { incompleteBeta } from './incomplete-beta.ts';

/**
 * Probability that Student's t stays at or below a value.
 *
 * P(T ≤ t) = 1 - I_x(ν/2, 1/2)/2 for t ≥ 0, with x = ν/(ν + t²) and I the regularised incomplete beta function; by symmetry below 0.
 *
 * Source: Abramowitz and Stegun 26.7.1. Degrees of freedom ν above 0, not only whole numbers.
 * Example: t 2.228 with 10 degrees of freedom gives 0.975.
 */
export const studentT = (t: number, degreesOfFreedom: number): number => {
  const tail = incompleteBeta(degreesOfFreedom / (degreesOfFreedom + t * t), degreesOfFreedom / 2, 0.5) / 2;
  return t >= 0 ? 1 - tail : tail;
};

const ranges = {
  probability: { low: 1e-9, high: 1 - 1e-9, unit: '' },
  degreesOfFreedom: { low: 1, high: 1e6, unit: '' },
} as const satisfies Record<string, ValidRange>;

/**
 * The value Student's t stays at or below with a given probability: what turns a standard error into an interval.
 *
 * Source: the inverse of `studentT`, found by bisection on the tail so that no digits are lost near 1.
 * Valid range: probability 1e-9 to 1 - 1e-9, degrees of freedom 1 to 1e6.
 * Example: 0.975 with 10 degrees of freedom gives 2.228, with 1 degree 12.706; the normal distribution's 1.960 would be far too small.
 */
export const studentTQuantile = (probability: number, degreesOfFreedom: number): Result<number, OutsideValidRange> => {
  const outside = findOutside({ probability, degreesOfFreedom }, ranges);
  if (outside !== null) return outside;
  if (probability === 0.5) return ok(0);
  const tail = Math.min(probability, 1 - probability);
  const size = bisectRising((t) => -studentT(-t, degreesOfFreedom), -tail, 0, largestT);
  return ok(probability > 0.5 ? size : -size);
};

/** Beyond the quantile of 1e-9 with one degree of freedom, 3.2e8. */
const largestT = 1e9;
