/**
 * The place of a function's smallest value between two bounds, by golden-section search.
 *
 * Each step keeps the part of the bracket that holds the smaller of two inner values; the bracket shrinks by 0.618 a step.
 *
 * Source: Kiefer 1953, "Sequential minimax search for a maximum". Needs one valley between the bounds; else it finds one of them.
 * Example: (x - 2)² between 0 and 5 gives 2 to within the tolerance.
 */
export const goldenSection = (cost: (x: number) => number, low: number, high: number, tolerance: number): number => {
  let a = low;
  let b = high;
  let x1 = b - shrink * (b - a);
  let x2 = a + shrink * (b - a);
  let cost1 = cost(x1);
  let cost2 = cost(x2);
  while (b - a > tolerance) {
    if (cost1 < cost2) {
      [b, x2, cost2] = [x2, x1, cost1];
      x1 = b - shrink * (b - a);
      cost1 = cost(x1);
    } else {
      [a, x1, cost1] = [x1, x2, cost2];
      x2 = a + shrink * (b - a);
      cost2 = cost(x2);
    }
  }
  return (a + b) / 2;
};

const shrink = (Math.sqrt(5) - 1) / 2;
