import { describe, expect, it } from 'vitest';
import { plannedChangesOf } from '#domain/cure/planned-changes.ts';
import type { EntryBodies } from '#domain/journal/entry.ts';
import { nextTask, tasksOf } from '#domain/cure/tasks.ts';
import { dayMs, hourMs, toRfc3339, type EpochMs } from '#domain/units/time.ts';
import { createShedBook, openDrum, type ShedBook } from '../../helpers/shed-book.ts';
import { createWatchBench } from '../../helpers/watch-bench.ts';

const zone = 'UTC';
const start = Date.UTC(2026, 8, 7, 6);
const day = (days: number): EpochMs => start + days * dayMs;
const morning = (days: number): EpochMs => Date.UTC(2026, 8, 7 + days, 8);

const opened = (batch: Parameters<typeof openDrum>[2] = {}): { book: ShedBook; lot: string; set: (body: EntryBodies['schedule-set'], at?: EpochMs) => void } => {
  const book = createShedBook();
  const lot = openDrum(book, start, { style: 'changed-brine', ...batch });
  return { book, lot, set: (body, at = start) => void book.write('schedule-set', body, at) };
};
const steps = (afterDays: readonly number[], thenEveryDays: readonly number[]) => ({ afterDays, thenEveryDays, source: 'my neighbour' });
const planned = (book: ShedBook, lot: string, now: EpochMs): number[] => {
  const batch = book.shed.batches.get(lot);
  if (batch === undefined) throw new Error('no batch');
  return plannedChangesOf(book.shed, batch, now, zone).slice(0, 4).map(({ at }) => (at - morning(0)) / dayMs);
};

describe('a schedule of one\'s own', () => {
  it('is followed by tasks and by what is planned, cures under way included', () => {
    const { book, lot, set } = opened();
    expect(planned(book, lot, day(0))).toEqual([2, 4, 6, 13]);
    set({ style: 'changed-brine', medium: 'brine', steps: steps([1, 3], [5, 10]) });
    expect(nextTask(book.shed, 'barrel-1', day(0), zone)).toMatchObject({ id: `${lot}-change-brine-1`, dueAt: morning(1) });
    expect(planned(book, lot, day(0))).toEqual([1, 4, 9, 19]);
  });

  it('counts from the change that was made last, under the same id as before', () => {
    const { book, lot, set } = opened();
    book.write('brine-changed', { lot, at: toRfc3339(day(2)), brineL: 27, saltGPerL: 100 }, day(2));
    const change = () => tasksOf(book.shed, day(3), zone).find(({ kind }) => kind === 'change-brine');
    expect(change()).toMatchObject({ id: `${lot}-change-brine-2`, dueAt: morning(4) });
    set({ style: 'changed-brine', medium: 'brine', steps: steps([], [14]) }, day(3));
    expect(change()).toMatchObject({ id: `${lot}-change-brine-2`, dueAt: morning(16) });
    expect(planned(book, lot, day(3))).toEqual([16, 30, 44, 58]);
  });

  it('stands for its own style and medium only, the latest for all, until it is taken back', () => {
    const { book, lot, set } = opened();
    set({ style: 'water-then-brine', medium: 'brine', steps: steps([], [1]) });
    set({ style: 'changed-brine', medium: 'water', steps: steps([], [1]) });
    expect(planned(book, lot, day(0))).toEqual([2, 4, 6, 13]);
    set({ style: 'changed-brine', medium: 'brine', steps: steps([], [3]) });
    set({ style: 'changed-brine', medium: 'brine', steps: steps([], [4]) });
    expect(planned(book, lot, day(0))).toEqual([4, 8, 12, 16]);
    set({ style: 'changed-brine', medium: 'brine', steps: null });
    expect(planned(book, lot, day(0))).toEqual([2, 4, 6, 13]);
  });

  it('never makes a kept brine a changed one', () => {
    const { book, lot, set } = opened({ style: 'kept-brine' });
    set({ style: 'kept-brine', medium: 'brine', steps: steps([], [1]) });
    expect(planned(book, lot, day(5))).toEqual([]);
  });

  it('moves the alert of a forgotten change at once', () => {
    const { book, set } = opened();
    const bench = createWatchBench(book, start);
    const overdue = () => [...book.shed.openAlerts.values()].some(({ rule }) => rule === 'change-overdue');
    set({ style: 'changed-brine', medium: 'brine', steps: steps([], [10]) });
    bench.follow(start);
    bench.tick(morning(2) + 13 * hourMs);
    expect(overdue()).toBe(false);
    set({ style: 'changed-brine', medium: 'brine', steps: null }, morning(2) + 14 * hourMs);
    bench.follow(morning(2) + 14 * hourMs);
    bench.tick(morning(2) + 14 * hourMs);
    expect(overdue()).toBe(true);
  });
});
