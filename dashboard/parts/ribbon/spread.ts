/**
 * Places marks of equal width along a line as near as can be to where they belong, without overlap and in order: the classic least-squares
 * answer (pool neighbours that collide and centre the pool on its members' mean). `null` when the line is too short for all of them.
 */
export const spread = (wanted: readonly number[], gap: number, low: number, high: number): readonly number[] | null => {
  if (wanted.length === 0) return [];
  if ((wanted.length - 1) * gap > high - low) return null;
  interface Pool {
    sum: number;
    count: number;
  }
  const pools: Pool[] = [];
  const firstOf = ({ sum, count }: Pool): number => Math.min(Math.max(sum / count, low), high - (count - 1) * gap);
  for (const x of wanted) {
    // Each member's wish is taken back to where the pool's first mark would then stand.
    let pool: Pool = { sum: x, count: 1 };
    let before = pools.at(-1);
    while (before !== undefined && firstOf(before) + before.count * gap > firstOf(pool)) {
      pools.pop();
      pool = { sum: before.sum + pool.sum - pool.count * before.count * gap, count: before.count + pool.count };
      before = pools.at(-1);
    }
    pools.push(pool);
  }
  return pools.flatMap((pool) => Array.from({ length: pool.count }, (_, index) => firstOf(pool) + index * gap));
};

/** The same, leaving out marks (never the first or the last) until the rest fit. `kept` holds the places of those that remain. */
export const spreadSome = (wanted: readonly number[], gap: number, low: number, high: number): { readonly kept: readonly number[]; readonly at: readonly number[] } => {
  for (let every = 1; every <= Math.max(1, wanted.length); every += 1) {
    const last = wanted.length - 1;
    // Counted back from the newest, which matters most.
    const kept = wanted.map((_, index) => index).filter((index) => (last - index) % every === 0);
    const at = spread(kept.map((index) => wanted[index] ?? 0), gap, low, high);
    if (at !== null) return { kept, at };
  }
  return { kept: [], at: [] };
};
