import { describe, expect, test } from 'vitest';
import { addRollup, addValue, bucketStart, meanOf, nextBucketStart, startRollup } from '#domain/reading/rollup.ts';
import { piecesOf } from '#domain/reading/view.ts';
import { hourMs, minuteMs } from '#domain/units/time.ts';

describe('intervals counted from the epoch', () => {
  const at = Date.UTC(2026, 4, 1, 12, 34, 56, 789);

  test('12:34:56 falls in the ten minutes from 12:30 and in the six hours from 12:00', () => {
    expect(bucketStart(at, 10 * minuteMs)).toBe(Date.UTC(2026, 4, 1, 12, 30));
    expect(bucketStart(at, 6 * hourMs)).toBe(Date.UTC(2026, 4, 1, 12));
    expect(nextBucketStart(at, 6 * hourMs)).toBe(Date.UTC(2026, 4, 1, 18));
  });

  test('the start belongs to its own interval, the instant before it to the one before', () => {
    const noon = Date.UTC(2026, 4, 1, 12);
    expect([noon - 1, noon].map((each) => bucketStart(each, 10 * minuteMs))).toEqual([noon - 10 * minuteMs, noon]);
    expect([noon, noon + 1].map((each) => nextBucketStart(each, 10 * minuteMs))).toEqual([noon, noon + 10 * minuteMs]);
  });

  test('before 1970 they go on downwards instead of towards zero', () => {
    expect(bucketStart(-1, 10 * minuteMs)).toBe(-10 * minuteMs);
  });
});

describe('rollups', () => {
  test('two put together are the rollup of all their readings', () => {
    const parts = [[4.25, -3, 8], [0.5]].map((values) => {
      const draft = startRollup(0);
      for (const value of values) addValue(draft, value);
      return draft;
    });
    const whole = startRollup(0);
    for (const part of parts) addRollup(whole, part);
    expect(whole).toEqual({ from: 0, count: 4, sum: 9.75, min: -3, max: 8 });
    // The mean of the two means would be 1.79.
    expect(meanOf(whole)).toBe(2.4375);
  });
});

describe('a span in whole intervals and finer ends', () => {
  const noon = Date.UTC(2026, 4, 1, 12);

  test('six hours in the middle, ten minutes around them, readings at the very ends', () => {
    const span = { from: noon - 15 * minuteMs, to: noon + 6 * hourMs + 25 * minuteMs };
    expect(piecesOf(span, '6h')).toEqual([
      { level: 'raw', from: noon - 15 * minuteMs, to: noon - 10 * minuteMs },
      { level: '10min', from: noon - 10 * minuteMs, to: noon },
      { level: '6h', from: noon, to: noon + 6 * hourMs },
      { level: '10min', from: noon + 6 * hourMs, to: noon + 6 * hourMs + 20 * minuteMs },
      { level: 'raw', from: noon + 6 * hourMs + 20 * minuteMs, to: noon + 6 * hourMs + 25 * minuteMs },
    ]);
  });

  test('a span on the grid is one piece, one inside an interval is readings', () => {
    expect(piecesOf({ from: noon, to: noon + 12 * hourMs }, '6h')).toEqual([{ level: '6h', from: noon, to: noon + 12 * hourMs }]);
    expect(piecesOf({ from: noon + 1, to: noon + 2 }, '6h')).toEqual([{ level: 'raw', from: noon + 1, to: noon + 2 }]);
    expect(piecesOf({ from: noon, to: noon }, '6h')).toEqual([]);
  });
});
