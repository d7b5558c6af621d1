/**
 * Sample quantile, straight lines between the values.
 *
 * h = (n - 1)·p; x(⌊h⌋) + (h - ⌊h⌋)·(x(⌊h⌋ + 1) - x(⌊h⌋)), the values counted from 0.
 *
 * Source: Hyndman & Fan 1996, The American Statistician 50, 361, definition 7. NaN without values.
 * Valid range: `sorted` ascending, p from 0 to 1. Example: 1 to 10 at 0.5 gives 5.5, at 0.25 gives 3.25.
 */
export const quantileOfSorted = (sorted: ArrayLike<number>, p: number): number => {
  const h = (sorted.length - 1) * p;
  const below = Math.floor(h);
  const low = sorted[below] ?? Number.NaN;
  return low + (h - below) * ((sorted[below + 1] ?? low) - low);
};
