import type { EpochMs } from '#domain/units/time.ts';

/** A quantity of the simulated shed as a function of time: the same time always gives the same value. */
export type Signal = (at: EpochMs) => number;

/**
 * Linear interpolation over values that are made one after another, at even steps from a start, and kept once made.
 * Asked in any order it answers alike, because value n depends on value n - 1 only.
 */
export const steppedSignal = (start: EpochMs, stepMs: number, first: number, next: (previous: number, index: number) => number): Signal => {
  const values = [first];
  return (at) => {
    const position = Math.max(0, (at - start) / stepMs);
    const index = Math.floor(position);
    for (let last = values.length - 1; last <= index; last++) values.push(next(values[last] as number, last + 1));
    const before = values[index] as number;
    return before + (position - index) * ((values[index + 1] as number) - before);
  };
};
