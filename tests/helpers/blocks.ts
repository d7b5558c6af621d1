import { qualities as knownQualities } from '#domain/reading/reading.ts';
import { dayMs } from '#domain/units/time.ts';
import type { Block } from '../../collector/stores/blocks/block.ts';
import { start } from './readings.ts';

/** Blocks as tests need them: one invented series and day. */
export interface Entry {
  readonly time: number;
  readonly value: number;
  readonly quality: number;
}

export const blockOf = (entries: readonly Entry[], part = 0): Block => ({
  series: 'north-1/temperature',
  from: start,
  to: start + dayMs,
  part,
  columns: {
    times: Float64Array.from(entries, ({ time }) => time),
    values: Float64Array.from(entries, ({ value }) => value),
    qualities: Uint8Array.from(entries, ({ quality }) => quality),
  },
});

/** The same numbers every time, evenly between 0 and 1 (mulberry32, a public-domain generator). */
export const seededRandom = (seed: number): (() => number) => {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
};

/** A day of readings every ten seconds, 200 ms early or late, with noise of a little more than the resolution of the probe. */
export const tenSecondDay = (stepsPerUnit: number, swing: number, noise: number, base: number, from = start): readonly Entry[] => {
  const random = seededRandom(20_261_125);
  return Array.from({ length: 8_640 }, (_, index) => {
    const ideal = base + swing * Math.sin((index / 8_640) * 2 * Math.PI) + noise * (random() + random() + random() - 1.5);
    return { time: from + 200 + index * 10_000 + Math.round((random() - 0.5) * 400), value: Math.round(ideal * stepsPerUnit) / stepsPerUnit, quality: 0 };
  });
};

export const qualityCount = knownQualities.length;
