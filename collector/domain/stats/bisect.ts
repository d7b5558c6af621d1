/**
 * Where a rising function meets a value, between two bounds that enclose it.
 *
 * Halves the bracket until it cannot be halved in double precision, so the answer is as good as the function itself.
 *
 * Source: bisection. Needs a function that rises from `low` to `high` and a value between the two ends; the caller checks that.
 * Example: x² meets 2 between 0 and 2 at 1.41421356.
 */
export const bisectRising = (rising: (x: number) => number, value: number, low: number, high: number): number => {
  let below = low;
  let above = high;
  for (;;) {
    const middle = (below + above) / 2;
    if (middle <= below || middle >= above) return middle;
    if (rising(middle) < value) below = middle;
    else above = middle;
  }
};
