/** Fruit in a drum from one day to another; on the day it leaves, other fruit may go in. */
export interface Stay {
  readonly from: number;
  readonly to: number;
}

/**
 * Which drum each stay takes: the drum that has been free the longest, or a new one where none is.
 *
 * Taken in order of their starts, as many drums are used as stays overlap at the busiest moment, and no order uses fewer.
 *
 * Source: interval partitioning, for example Kleinberg & Tardos 2005, Algorithm Design, section 4.1 (from memory).
 * Units: days. Valid range: stays in order of `from`, each at least as long as nothing. Example: 0–10, 5–15, 10–20 give drums 0, 1, 0.
 */
export const placeInDrums = (stays: readonly Stay[]): readonly number[] => {
  const freeFrom: number[] = [];
  return stays.map(({ from, to }) => {
    let drum = -1;
    for (const [index, free] of freeFrom.entries()) if (free <= from && (drum === -1 || free < (freeFrom[drum] ?? 0))) drum = index;
    if (drum === -1) drum = freeFrom.length;
    freeFrom[drum] = to;
    return drum;
  });
};
