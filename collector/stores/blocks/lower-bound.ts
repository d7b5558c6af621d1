/** Index of the first of ascending numbers that is not below `least`; their length where all are. */
export const lowerBound = (ascending: Float64Array, least: number): number => {
  let low = 0;
  let high = ascending.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if ((ascending[middle] ?? Infinity) < least) low = middle + 1;
    else high = middle;
  }
  return low;
};
