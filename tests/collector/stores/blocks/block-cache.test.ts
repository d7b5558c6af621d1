import { expect, test } from 'vitest';
import { BlockCache } from '../../../../collector/stores/blocks/block-cache.ts';
import type { Columns } from '../../../../collector/stores/blocks/columns.ts';

/** Seventeen bytes a reading. */
const columnsOf = (readings: number): Columns => ({ times: new Float64Array(readings), values: new Float64Array(readings), qualities: new Uint8Array(readings) });

test('what was asked for last stays; what was not asked for longest makes room', () => {
  const cache = new BlockCache(3 * 170);
  const loads: number[] = [];
  const ask = (id: number, readings = 10) =>
    cache.get(id, () => {
      loads.push(id);
      return columnsOf(readings);
    });
  for (const id of [1, 2, 3, 1, 4]) ask(id);
  expect(cache.count).toEqual({ hits: 1, misses: 4, blocks: 3, bytes: 510 });
  // 2 went, not 1.
  for (const id of [1, 3, 4, 2]) ask(id);
  expect(loads).toEqual([1, 2, 3, 4, 2]);
});

test('never holds more than its bytes, and a block larger than all of them is read without being kept', () => {
  const cache = new BlockCache(1_000);
  for (const [id, readings] of [20, 30, 5, 40, 58, 59, 1].entries()) {
    expect(cache.get(id, () => columnsOf(readings)).times.length).toBe(readings);
    expect(cache.count.bytes).toBeLessThanOrEqual(1_000);
  }
  expect(cache.count.blocks).toBe(1);
});
