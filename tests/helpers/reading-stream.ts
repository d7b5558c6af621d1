import type { Reading } from '#domain/reading/reading.ts';
import { secondMs } from '#domain/units/time.ts';
import { air, brine, reading, start } from './readings.ts';

export const streamBatchSize = 200;

/** Batch N of an endless stream that two processes can each work out: two series, every ten seconds, a bad reading now and then. */
export const streamBatch = (batch: number): readonly Reading[] =>
  Array.from({ length: streamBatchSize }, (_, position) => {
    const index = batch * streamBatchSize + position;
    const step = Math.floor(index / 2);
    return reading(start + step * 10 * secondMs, 15 + ((step * 37) % 97) / 16, index % 2 === 0 ? brine : air, step % 50 === 49 ? 'out-of-range' : 'good');
  });
