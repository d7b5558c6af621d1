/**
 * Shapley value: shares out what players reach together, each by its mean contribution over all orders in which they may come.
 *
 * φ_i = Σ_{S without i} |S|! (n - |S| - 1)! / n! · [v(S ∪ {i}) - v(S)]
 *
 * `value` is asked once for each of the 2^n sets; bit i of `set` says whether player i is in it.
 * The shares add up to v(all) - v(none) (efficiency); players that do the same get the same (symmetry); one that changes nothing gets
 * nothing (null player).
 *
 * Source: Shapley (1953), "A value for n-person games". Units: those of `value`. Valid for 1 to 20 players.
 * Example: a left glove and two right ones, a pair worth 1: 2/3, 1/6, 1/6.
 */
export const shapley = (players: number, value: (set: number) => number): readonly number[] => {
  const values = Float64Array.from({ length: 2 ** players }, (_, set) => value(set));
  const weights = weightsOf(players);
  return Array.from({ length: players }, (_, player) => {
    const bit = 1 << player;
    let share = 0;
    for (const [set, without] of values.entries()) {
      if ((set & bit) === 0) share += (weights[sizeOf(set)] as number) * ((values[set | bit] as number) - without);
    }
    return share;
  });
};

/** |S|! (n - |S| - 1)! / n! by the size of S, without factorials: the next from the last. */
const weightsOf = (players: number): readonly number[] => {
  const weights = [1 / players];
  for (let size = 1; size < players; size++) weights.push(((weights[size - 1] as number) * size) / (players - size));
  return weights;
};

const sizeOf = (set: number): number => {
  let size = 0;
  for (let rest = set; rest !== 0; rest &= rest - 1) size++;
  return size;
};
