/**
 * Arithmetic mean.
 *
 * x̄ = Σx / n, taken in two passes so that a large common offset does not eat the digits.
 *
 * Source: Chan, Golub and LeVeque 1983 on the rounding of sums. NaN without values, as a mean of nothing has no value.
 * Example: 2, 4, 9 gives 5.
 */
export const mean = (values: readonly number[]): number => {
  let sum = 0;
  for (const value of values) sum += value;
  const first = sum / values.length;
  let rest = 0;
  for (const value of values) rest += value - first;
  return first + rest / values.length;
};

/**
 * Sum of squared distances from the mean, with the correction for the rounding of the mean itself.
 *
 * S = Σ(x - x̄)² - (Σ(x - x̄))²/n
 *
 * Source: corrected two-pass algorithm, Chan, Golub and LeVeque 1983, The American Statistician 37, 242.
 */
export const sumOfSquares = (values: readonly number[]): number => {
  const centre = mean(values);
  let squares = 0;
  let rest = 0;
  for (const value of values) {
    squares += (value - centre) ** 2;
    rest += value - centre;
  }
  return squares - (rest * rest) / values.length;
};

/** Sample variance, S/(n - 1); NaN below two values. Example: 2, 4, 9 gives 13. */
export const variance = (values: readonly number[]): number => (values.length < 2 ? Number.NaN : sumOfSquares(values) / (values.length - 1));

export const standardDeviation = (values: readonly number[]): number => Math.sqrt(variance(values));

/** The middle value, or the mean of the two in the middle; NaN without values. Example: 9, 2, 4 gives 4. */
export const median = (values: readonly number[]): number => {
  const sorted = values.toSorted((a, b) => a - b);
  const half = sorted.length >> 1;
  const upper = sorted[half] ?? Number.NaN;
  return sorted.length % 2 === 1 ? upper : ((sorted[half - 1] ?? Number.NaN) + upper) / 2;
};
