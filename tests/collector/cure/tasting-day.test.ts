import { describe, expect, test } from 'vitest';
import { oncePerFruit } from '#domain/cure/finished-cure.ts';
import { lastTaste } from '#domain/cure/last-taste.ts';
import { tasksOf, type Task } from '#domain/cure/tasks.ts';
import { tastingReason } from '#domain/cure/tasting-text.ts';
import type { Batch } from '#domain/journal/shed.ts';
import { toRfc3339 } from '#domain/units/time.ts';
import { createShedBook, openDrum } from '../../helpers/shed-book.ts';

const zone = 'Europe/Rome';
/** A local time so many days after Monday, 7 September 2026. */
const at = (day: number, hour = 8): number => Date.parse('2026-09-07T00:00:00+02:00') + day * 86_400_000 + hour * 3_600_000;

describe('the reason for the day of a tasting', () => {
  test.each([
    [{ at: at(8), notBefore: at(12, 15) }, 'A taste tomorrow teaches most; before Saturday it can hardly be sweet.'],
    [{ at: at(9), notBefore: at(12, 15) }, 'A taste on Wednesday teaches most; before Saturday it can hardly be sweet.'],
    [{ at: at(20), notBefore: at(30) }, 'A taste on 27 September teaches most; before 7 October it can hardly be sweet.'],
    [{ at: at(7), notBefore: at(3) }, 'A taste today teaches most: it may be sweet by now.'],
    [{ at: at(5), notBefore: at(8) }, 'A taste today teaches most; before tomorrow it can hardly be sweet.'],
  ])('%#: %s', (next, words) => {
    expect(tastingReason(next, at(7, 9), zone)).toBe(words);
  });
});

describe('the task to taste', () => {
  const opened = () => {
    const book = createShedBook();
    const lot = openDrum(book, at(0, 8.5), { style: 'changed-brine' });
    book.write('tasted', { lot, at: toRfc3339(at(13, 9)), bitterness: 7 }, at(13, 9));
    const taste = (day: number, hour: number, teaches?: number): Task | undefined =>
      tasksOf(book.shed, at(day, hour), zone, new Map(), teaches === undefined ? new Map() : new Map([[lot, { at: at(teaches), notBefore: at(25) }]])).find(({ kind }) => kind === 'taste');
    return { book, lot, taste };
  };

  test('goes by its schedule while nobody can say better, and by the day that teaches most where one can', () => {
    const { taste } = opened();
    expect(taste(14, 9)).toMatchObject({ dueAt: at(20) });
    expect(taste(14, 9)?.text).not.toMatch(/teaches/);
    expect(taste(14, 9, 24)).toMatchObject({ dueAt: at(24) });
    expect(taste(14, 9, 24)?.text).toMatch(/Not if anything smells or looks wrong\. A taste on 1 October teaches most; before 2 October it can hardly be sweet\.$/);
  });

  test('is due today where its day has passed, and late only when the schedule has passed too', () => {
    const { taste } = opened();
    expect(taste(18, 9, 16)).toMatchObject({ dueAt: at(18), overdue: false });
    expect(taste(22, 21, 16)).toMatchObject({ dueAt: at(20), overdue: true });
    expect(taste(26, 21, 24)).toMatchObject({ dueAt: at(24), overdue: true });
  });

  test('counts from the last taste, or from the day it was left out', () => {
    const { book, lot } = opened();
    const batch = (): Batch => book.shed.batches.get(lot) as Batch;
    expect(lastTaste(book.shed, batch(), at(18))).toBe(at(13, 9));
    expect(lastTaste(book.shed, batch(), at(10))).toBe(at(0, 8.5));
    book.write('task-skipped', { task: `${lot}-taste-2`, reason: 'away' }, at(20, 10));
    expect(lastTaste(book.shed, batch(), at(21))).toBe(at(20, 10));
    book.write('task-skipped', { task: `${lot}-change-brine-1`, reason: 'away' }, at(22, 10));
    expect(lastTaste(book.shed, batch(), at(23))).toBe(at(20, 10));
  });
});

test('parts of one cure count once among the earlier ones', () => {
  const parts = [['a'], ['a', 'b'], ['c']].map((lineage) => ({ lot: lineage.at(-1), lineage }) as unknown as Batch);
  expect(oncePerFruit(parts).map(({ lot }) => lot)).toEqual(['a', 'c']);
});
