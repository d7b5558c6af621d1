/** What is known of a figure before it is measured: the least, the likely and the most. */
export interface Spread {
  readonly low: number;
  readonly likely: number;
  readonly high: number;
}

/**
 * A draw from the triangular distribution, by its inverse.
 *
 * With F = (m - a)/(b - a): x = a + √(u·(b - a)·(m - a)) for u ≤ F, else b - √((1 - u)·(b - a)·(b - m)).
 * Mean (a + m + b)/3, variance (a² + m² + b² - am - ab - mb)/18.
 *
 * Source: textbook, for example Kotz & van Dorp 2004, Beyond Beta, chapter 1 (from memory).
 * Valid range: low ≤ likely ≤ high, u from 0 to 1; a spread of nothing gives its one value. Example: 0, 5, 10 at u = 0.5 gives 5.
 */
export const triangular = ({ low, likely, high }: Spread, u: number): number => {
  const width = high - low;
  if (width <= 0) return likely;
  return u <= (likely - low) / width ? low + Math.sqrt(u * width * (likely - low)) : high - Math.sqrt((1 - u) * width * (high - likely));
};

/** The middle of a triangular spread. Example: 5, 7, 9 gives 7. */
export const triangularMean = ({ low, likely, high }: Spread): number => (low + likely + high) / 3;
