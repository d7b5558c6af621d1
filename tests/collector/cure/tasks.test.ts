import { describe, expect, it } from 'vitest';
import { nextTask, tasksOf, type Task } from '#domain/cure/tasks.ts';
import { toRfc3339 } from '#domain/units/time.ts';
import { createShedBook, openDrum, type ShedBook } from '../../helpers/shed-book.ts';

const zone = 'Europe/Rome';
/** 08:30 in Rome, summer time, a Monday. */
const start = Date.parse('2026-09-07T06:30:00Z');
/** A local time so many days after the start; the clocks in Rome do not change until seven weeks later. */
const at = (day: number, hour = 8): number => Date.parse('2026-09-07T00:00:00+02:00') + day * 86_400_000 + hour * 3_600_000;

const opened = (batch: Parameters<typeof openDrum>[2] = {}) => {
  const book = createShedBook();
  const lot = openDrum(book, start, { style: 'changed-brine', ...batch });
  const tasks = (day: number, hour = 9) => tasksOf(book.shed, at(day, hour), zone);
  const change = (day: number, hour = 9): Task => {
    const found = tasks(day, hour).find(({ kind }) => kind.startsWith('change'));
    if (found === undefined) throw new Error('no change is due');
    return found;
  };
  const changed = (day: number, hour = 9, saltGPerL = 100): number => book.write('brine-changed', { lot, at: toRfc3339(at(day, hour)), brineL: 27, saltGPerL }, at(day, hour));
  return { book, lot, tasks, change, changed };
};
const skip = (book: ShedBook, task: string, day: number): number => book.write('task-skipped', { task, reason: 'away' }, at(day));

describe('changes', () => {
  it('fall due 2, 4 and 6 days after the start, then weekly, each at 08:00', () => {
    const { change, changed } = opened();
    for (const day of [2, 4, 6, 13, 20]) {
      expect(change(day).dueAt).toBe(at(day));
      changed(day);
    }
  });

  it('are settled by a logged change alone; the next counts from it, early or late, in steps of the schedule', () => {
    const early = opened();
    early.changed(1);
    expect(early.change(1)).toMatchObject({ dueAt: at(3), id: `${early.lot}-change-brine-2` });
    const late = opened();
    late.changed(5);
    expect(late.change(5)).toMatchObject({ dueAt: at(7), id: `${late.lot}-change-brine-2` });
  });

  it('count local days: one done late in the evening is one of that day', () => {
    const { change, changed } = opened();
    changed(2, 23.5);
    expect(change(3).dueAt).toBe(at(4));
  });

  it('are overdue the same evening, not the same morning', () => {
    const { change } = opened();
    expect([change(2, 9).overdue, change(2, 19.9).overdue, change(2, 20.1).overdue]).toEqual([false, false, true]);
  });

  it('say what they need, as last time', () => {
    const { change, changed } = opened({ brineL: 26.5, saltGPerL: 90 });
    expect(change(0)).toMatchObject({ needs: { brineL: 26.5, saltG: 2_385 }, text: 'Change the brine in Barrel 1: 27 L with 2.4 kg salt, as last time.' });
    changed(2, 9, 60);
    expect(change(2).needs).toEqual({ brineL: 27, saltG: 1_620 });
  });

  it('keep their id while they are open', () => {
    const { change } = opened();
    expect([change(0).id, change(1).id, change(9).id]).toEqual(Array.from({ length: 3 }, () => 'barrel-1-a-change-brine-1'));
  });
});

describe('skipping', () => {
  it('lets the schedule run on from the day it was due', () => {
    const { book, change } = opened();
    skip(book, change(2).id, 2);
    expect(change(2)).toMatchObject({ id: 'barrel-1-a-change-brine-2', dueAt: at(4) });
  });

  it('late never asks for what is already past', () => {
    const { book, change } = opened({ style: 'water-then-brine', saltGPerL: 0 });
    skip(book, change(5).id, 5);
    expect(change(5)).toMatchObject({ id: 'barrel-1-a-change-water-2', dueAt: at(6) });
  });

  it('of one step leaves the acts after it their own steps', () => {
    const { book, change, changed } = opened();
    skip(book, change(2).id, 2);
    changed(4);
    expect(change(4)).toMatchObject({ id: 'barrel-1-a-change-brine-3', dueAt: at(6) });
  });
});

describe('doing', () => {
  it('with an act settles one task, not two', () => {
    const { book, change, changed } = opened();
    const task = change(2).id;
    const entry = changed(2);
    book.write('task-done', { task, entry }, at(2));
    expect(change(2)).toMatchObject({ id: 'barrel-1-a-change-brine-2', dueAt: at(4) });
  });

  it('without an act counts from the day it was said', () => {
    const { book, change } = opened();
    book.write('task-done', { task: change(2).id, entry: null }, at(3));
    expect(change(3)).toMatchObject({ id: 'barrel-1-a-change-brine-2', dueAt: at(5) });
  });

  it('follows a correction of the act: another day, or taken back', () => {
    const { book, lot, change, changed } = opened();
    const task = change(2).id;
    const entry = changed(2);
    book.write('task-done', { task, entry }, at(2));
    const moved = book.write('corrected', { entry, reason: 'it was the day before', replacement: { kind: 'brine-changed', at: toRfc3339(at(1)), brineL: 27, saltGPerL: 100 } }, at(3));
    expect(change(3)).toMatchObject({ id: `${lot}-change-brine-2`, dueAt: at(3) });
    book.write('corrected', { entry: moved, reason: 'it was another drum', replacement: null }, at(3));
    expect(change(3)).toMatchObject({ id: task, dueAt: at(2) });
  });
});

describe('water then brine', () => {
  it('asks for water daily, then for brine weekly once salted, numbering on', () => {
    const { change, changed } = opened({ style: 'water-then-brine', saltGPerL: 0 });
    expect(change(0)).toMatchObject({ kind: 'change-water', dueAt: at(1), needs: { brineL: 27 } });
    changed(1, 9, 0);
    changed(2, 9, 0);
    expect(change(2)).toMatchObject({ kind: 'change-water', dueAt: at(3), id: 'barrel-1-a-change-water-3' });
    changed(3, 9, 80);
    expect(change(3)).toMatchObject({ kind: 'change-brine', dueAt: at(10), id: 'barrel-1-a-change-brine-4' });
  });
});

describe('kept brine', () => {
  const kept = (batch: Parameters<typeof openDrum>[2] = {}) => {
    const made = opened({ style: 'kept-brine', ...batch });
    const ph = (day: number) => made.tasks(day).find(({ kind }) => kind === 'measure-ph');
    const measured = (day: number, value: number) => made.book.write('measured', { lot: made.lot, at: toRfc3339(at(day, 9)), quantity: 'ph', value }, at(day, 9));
    return { ...made, ph, measured };
  };

  it('is never asked to change its brine', () => {
    const { tasks } = kept();
    expect(tasks(30).map(({ kind }) => kind)).toEqual(['measure-ph']);
  });

  it('is measured twice a week until pH 4.3 with the uncertainty of the meter (± 0.1), then weekly', () => {
    const { ph, measured } = kept();
    expect(ph(0)?.dueAt).toBe(at(3));
    measured(3, 5.2);
    expect(ph(3)?.dueAt).toBe(at(7));
    measured(7, 4.25); // may be 4.35
    expect(ph(7)?.dueAt).toBe(at(10));
    measured(10, 4.2);
    expect(ph(10)?.dueAt).toBe(at(17));
  });

  it('is not measured by hand where a pH probe watches', () => {
    const { book, ph } = kept();
    book.write('placed', { probe: 'probe-9', channel: 'ph', drum: 'barrel-1', from: toRfc3339(at(0)) }, at(0));
    expect(ph(3)).toBeUndefined();
  });
});

describe('tasting, waiting, resting', () => {
  const taste = (tasks: readonly Task[]) => tasks.find(({ kind }) => kind === 'taste')?.dueAt;

  it('tastes a leach from day 14 weekly (assumption), also when somebody tasted early', () => {
    const { book, lot, tasks } = opened();
    expect(taste(tasks(1))).toBe(at(13));
    book.write('tasted', { lot, at: toRfc3339(at(1, 9)), bitterness: 9 }, at(1));
    expect(taste(tasks(1))).toBe(at(13));
    book.write('tasted', { lot, at: toRfc3339(at(13, 9)), bitterness: 5 }, at(13));
    expect(taste(tasks(13))).toBe(at(20));
  });

  it('asks for nothing but pH once the fruit is sweet: the next morning, then weekly', () => {
    const { book, lot, tasks } = opened();
    book.write('tasted', { lot, at: toRfc3339(at(13, 9)), bitterness: 1 }, at(13));
    expect(tasks(13).map(({ kind, dueAt }) => [kind, dueAt])).toEqual([['measure-ph', at(14)]]);
    book.write('measured', { lot, at: toRfc3339(at(14, 9)), quantity: 'ph', value: 4.9 }, at(14));
    expect(tasks(14).map(({ dueAt }) => dueAt)).toEqual([at(21)]);
  });

  it('asks for one review on the first morning after the rest, until it is settled', () => {
    const { book, lot, tasks } = opened();
    book.write('jarred', { lot, at: toRfc3339(at(1, 15)), jars: 40, jarMl: 720, brine: 'fresh', ingredients: [] }, at(1, 15));
    const [review, ...others] = tasks(2);
    expect(others).toEqual([]);
    expect(review).toMatchObject({ kind: 'review', dueAt: at(16) }); // rested at 15:00 of day 15: the morning after
    book.write('task-done', { task: review?.id ?? '', entry: null }, at(16));
    expect(tasks(17)).toEqual([]);
  });
});

describe('today', () => {
  it('lists every drum, soonest first, and gives each drum its next', () => {
    const book = createShedBook();
    openDrum(book, start, { style: 'changed-brine' });
    openDrum(book, start, { style: 'water-then-brine', saltGPerL: 0 }, 'barrel-2', 'probe-2');
    const all = tasksOf(book.shed, at(0, 9), zone);
    expect(all.map(({ drum, kind }) => `${drum} ${kind}`)).toEqual(['barrel-2 change-water', 'barrel-1 change-brine', 'barrel-1 taste']);
    expect(nextTask(book.shed, 'barrel-1', at(0, 9), zone)).toMatchObject({ kind: 'change-brine' });
    expect(nextTask(book.shed, 'barrel-3', at(0, 9), zone)).toBeNull();
  });
});
