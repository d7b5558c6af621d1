import type { Result } from '../result.ts';
import { ok } from '../result.ts';
import type { OutsideValidRange } from '../valid-range.ts';
import { outsideValidRange } from '../valid-range.ts';
import { mean, sumOfSquares } from './moments.ts';

export interface Point {
  readonly x: number;
  readonly y: number;
}

export interface Line {
  readonly intercept: number;
  readonly slope: number;
  readonly interceptError: number;
  readonly slopeError: number;
  /** Residual standard deviation, √(residual sum of squares / (n - 2)); 0 when two points leave no freedom. */
  readonly residual: number;
  readonly rSquared: number;
  readonly degreesOfFreedom: number;
  readonly regressionSumOfSquares: number;
  readonly residualSumOfSquares: number;
  readonly meanX: number;
  /** Σ(x - x̄)²: with `meanX` what a prediction interval needs. */
  readonly sumOfSquaresX: number;
}

/**
 * Straight line through points by least squares, with the standard errors of its two numbers.
 *
 * slope = Σ(x - x̄)(y - ȳ) / Σ(x - x̄)²; intercept = ȳ - slope·x̄; residual² = Σ(y - ŷ)² / (n - 2);
 * slopeError = residual/√Sxx; interceptError = residual·√(1/n + x̄²/Sxx).
 *
 * Source: any text on simple regression; core checked against NIST StRD "Norris". Valid for two points or more at two or more x; errors
 * need three. Refusals name the field `points`.
 * Example: (0, 1), (1, 3), (2, 5) gives intercept 1, slope 2, residual 0.
 */
export const linearRegression = (points: readonly Point[]): Result<Line, OutsideValidRange> => {
  const xs = points.map(({ x }) => x);
  const ys = points.map(({ y }) => y);
  if (points.length < 2) return outsideValidRange('points', 'a line needs at least two points');
  if (![...xs, ...ys].every(Number.isFinite)) return outsideValidRange('points', 'every point needs two finite numbers');
  const meanX = mean(xs);
  const meanY = mean(ys);
  const sumOfSquaresX = sumOfSquares(xs);
  // Points that differ only in the last bits have no direction.
  if (!(Math.sqrt(sumOfSquaresX / xs.length) > 1e-12 * Math.max(1, Math.abs(meanX)))) return outsideValidRange('points', 'the points all have the same x');
  let products = 0;
  for (const { x, y } of points) products += (x - meanX) * (y - meanY);
  const slope = products / sumOfSquaresX;
  const intercept = meanY - slope * meanX;
  let residualSumOfSquares = 0;
  for (const { x, y } of points) residualSumOfSquares += (y - meanY - slope * (x - meanX)) ** 2;
  const regressionSumOfSquares = slope * products;
  const total = regressionSumOfSquares + residualSumOfSquares;
  const degreesOfFreedom = points.length - 2;
  const residual = degreesOfFreedom > 0 ? Math.sqrt(residualSumOfSquares / degreesOfFreedom) : 0;
  return ok({
    intercept, slope, residual, degreesOfFreedom, regressionSumOfSquares, residualSumOfSquares, meanX, sumOfSquaresX,
    interceptError: residual * Math.sqrt(1 / points.length + (meanX * meanX) / sumOfSquaresX),
    slopeError: residual / Math.sqrt(sumOfSquaresX),
    rSquared: total > 0 ? regressionSumOfSquares / total : 1,
  });
};
