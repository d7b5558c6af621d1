import { describe, expect, test } from 'vitest';
import { sweetBitterness } from '#domain/cure/batch.ts';
import { changeRhythmDays, changesOf } from '#domain/cure/change-rhythm.ts';
import { endOfCure } from '#domain/cure/end-of-cure.ts';
import type { EntryBodies } from '#domain/journal/entry.ts';
import type { Batch } from '#domain/journal/shed.ts';
import { dayMs, toRfc3339 } from '#domain/units/time.ts';
import { createShedBook, openDrum } from '../../helpers/shed-book.ts';

const start = Date.UTC(2026, 9, 3, 8);
const on = (day: number): string => toRfc3339(start + day * dayMs);

/** An invented batch: tastings as [day, score], then jarred on a day, or not. */
const batchOf = (tastings: readonly (readonly [number, number])[], jarredOn: number | null = null): Batch => {
  const book = createShedBook();
  const lot = openDrum(book, start);
  for (const [day, bitterness] of tastings) book.write('tasted', { lot, at: on(day), bitterness }, start + day * dayMs);
  if (jarredOn !== null) book.write('jarred', { lot, at: on(jarredOn), jars: 40, jarMl: 500, brine: '8 %', ingredients: [] }, start + jarredOn * dayMs);
  return book.shed.batches.get(lot) as Batch;
};
const endOf = (...given: Parameters<typeof batchOf>) => endOfCure(batchOf(...given), sweetBitterness);

describe('the end of a cure', () => {
  test('is the first tasting at or below the end point, known to lie after the tasting before it', () => {
    expect(endOf([[10, 6], [17, 3], [24, 1], [31, 0]], 33)).toEqual({
      ok: true, value: { sweetAt: start + 24 * dayMs, bitterAt: start + 17 * dayMs, days: 24, gapDays: 7, likelyDays: 20.5 },
    });
  });

  test('does not wait for the jars', () => {
    expect(endOf([[10, 6], [20, 1]])).toMatchObject({ ok: true, value: { days: 20 } });
  });

  test('may come earlier at an end point that is more bitter', () => {
    expect(endOfCure(batchOf([[10, 6], [17, 3], [24, 1]]), 4)).toMatchObject({ ok: true, value: { days: 17, likelyDays: 13.5 } });
  });

  test('with a single tasting has no beginning of its interval: the day is the latest it can be', () => {
    expect(endOf([[24, 1]])).toMatchObject({ ok: true, value: { days: 24, bitterAt: null, gapDays: null, likelyDays: 24 } });
  });

  test('stands if one tasting between is more bitter, as tastes differ', () => {
    expect(endOf([[10, 6], [20, 1], [22, 2], [25, 0]])).toMatchObject({ ok: true, value: { days: 20 } });
  });

  test('does not stand while the latest tasting is bitter again', () => {
    expect(endOf([[10, 6], [20, 1], [24, 3]])).toEqual({ ok: false, error: { code: 'bitter-again', last: 3 } });
  });

  test('is not brought about by jarring fruit that was more bitter: it stopped elsewhere', () => {
    expect(endOf([[10, 6], [20, 3]], 21)).toEqual({ ok: false, error: { code: 'jarred-bitter', last: 3 } });
    expect(endOf([], 21)).toEqual({ ok: false, error: { code: 'never-tasted', last: null } });
  });

  test('is not told by a tasting from the jar, nor by one before the start', () => {
    expect(endOf([[10, 6], [40, 1]], 21)).toMatchObject({ ok: false, error: { code: 'jarred-bitter' } });
    expect(endOf([[-1, 0], [10, 6]])).toMatchObject({ ok: false, error: { code: 'not-finished' } });
  });

  test('has not come without a tasting', () => {
    expect(endOf([])).toEqual({ ok: false, error: { code: 'not-finished', last: null } });
  });

  test('is moved by a correction', () => {
    const book = createShedBook();
    const lot = openDrum(book, start);
    const wrong = book.write('tasted', { lot, at: on(10), bitterness: 1 }, start + 10 * dayMs);
    book.write('corrected', { entry: wrong, reason: 'meant 7', replacement: { kind: 'tasted', at: on(10), bitterness: 7 } }, start + 11 * dayMs);
    expect(endOfCure(book.shed.batches.get(lot) as Batch, sweetBitterness)).toMatchObject({ ok: false, error: { code: 'not-finished', last: 7 } });
  });
});

describe('the pace of brine changes', () => {
  const changed = (style: EntryBodies['batch-opened']['style'], changes: readonly (readonly [day: number, saltGPerL: number])[]): Batch => {
    const book = createShedBook();
    const lot = openDrum(book, start, { style });
    for (const [day, saltGPerL] of changes) book.write('brine-changed', { lot, at: on(day), brineL: 27, saltGPerL }, start + day * dayMs);
    return book.shed.batches.get(lot) as Batch;
  };

  test('goes on as the last two changes were', () => {
    expect(changeRhythmDays(changed('changed-brine', [[2, 80], [4, 80], [9, 80]]))).toBe(5);
  });

  test('follows the schedule where water has just given way to brine, or only one change is known', () => {
    expect(changeRhythmDays(changed('water-then-brine', [[1, 0], [2, 0], [3, 80]]))).toBe(7);
    expect(changeRhythmDays(changed('water-then-brine', [[1, 0]]))).toBe(1);
    expect(changeRhythmDays(changed('changed-brine', [[2, 80], [2.1, 80]]))).toBe(7);
  });

  test('follows the schedule of the site before that of the style', () => {
    const own = createShedBook();
    own.write('schedule-set', { style: 'changed-brine', medium: 'brine', steps: { afterDays: [], thenEveryDays: [10], source: 'ours' } }, start);
    expect(changeRhythmDays(changed('changed-brine', [[2, 80]]), own.shed.schedules)).toBe(10);
    expect(changeRhythmDays(changed('changed-brine', [[2, 80], [4, 80], [9, 80]]), own.shed.schedules)).toBe(5);
  });

  test('is none for kept brine, nor where nothing was ever changed', () => {
    expect(changeRhythmDays(changed('changed-brine', []))).toBe(null);
    expect(changeRhythmDays(changed('kept-brine', [[30, 80]]))).toBe(null);
  });

  test('counts a change without a share as the whole', () => {
    expect(changesOf(changed('changed-brine', [[2, 80]]))).toEqual([{ at: start + 2 * dayMs, fraction: 1 }]);
  });
});
