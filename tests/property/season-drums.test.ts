import fc from 'fast-check';
import { expect, test } from 'vitest';
import { placeInDrums, type Stay } from '#domain/season/place-in-drums.ts';

const seed = 20261125;
const stays: fc.Arbitrary<readonly Stay[]> = fc
  .array(fc.record({ from: fc.integer({ min: 0, max: 60 }), days: fc.integer({ min: 1, max: 50 }) }), { maxLength: 40 })
  .map((all) => all.map(({ from, days }) => ({ from, to: from + days })).toSorted((one, other) => one.from - other.from));

test('no drum holds two picks at once, and no more drums are used than picks overlap at the busiest moment', () => {
  fc.assert(
    fc.property(stays, (all) => {
      const drums = placeInDrums(all);
      for (const [i, one] of all.entries()) for (const [j, other] of all.entries()) if (i < j && drums[i] === drums[j]) expect(one.to <= other.from || other.to <= one.from).toBe(true);
      const deepest = Math.max(0, ...all.map(({ from }) => all.filter((other) => other.from <= from && other.to > from).length));
      expect(new Set(drums).size).toBe(deepest);
    }),
    { seed, numRuns: 300 },
  );
});

test('the drum that has been free the longest is taken first', () => {
  expect(placeInDrums([{ from: 0, to: 10 }, { from: 0, to: 5 }, { from: 12, to: 20 }, { from: 12, to: 13 }, { from: 14, to: 15 }])).toEqual([0, 1, 1, 0, 0]);
});
