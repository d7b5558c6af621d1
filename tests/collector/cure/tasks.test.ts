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
    expect(tasks(30).filter(({ kind }) => kind.startsWith('change'))).toEqual([]);
  });

  it('is measured twice a week until pH 4.3 with the uncertainty of the meter (± 0.12), then weekly', () => {
    const { ph, measured } = kept();
    expect(ph(0)?.dueAt).toBe(at(3));
    measured(3, 5.2);
    expect(ph(3)?.dueAt).toBe(at(7));
    measured(7, 4.19); // may be 4.31
    expect(ph(7)?.dueAt).toBe(at(10));
    measured(10, 4.18); // 4.30 at most
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

  it('asks for pH once the fruit is sweet, the next morning, then weekly, and for jars the morning after that; for no change and no tasting', () => {
    const { book, lot, tasks } = opened();
    const own = (day: number) => tasks(day).filter(({ kind }) => kind !== 'look' && !kind.startsWith('calibrate')).map(({ kind, dueAt }) => [kind, dueAt]);
    book.write('measured', { lot, at: toRfc3339(at(12, 9)), quantity: 'salinity', value: 62 }, at(12));
    book.write('tasted', { lot, at: toRfc3339(at(13, 9)), bitterness: 1 }, at(13));
    expect(own(13)).toEqual([['measure-ph', at(14)], ['jar', at(15)]]);
    book.write('measured', { lot, at: toRfc3339(at(14, 9)), quantity: 'ph', value: 4.9 }, at(14));
    expect(own(14)).toEqual([['jar', at(15)], ['measure-ph', at(21)]]);
    expect(tasks(15).find(({ kind }) => kind === 'jar')).toMatchObject({ needs: { jars: 71 }, overdue: false });
    expect(tasks(23).find(({ kind }) => kind === 'jar')?.overdue).toBe(true);
  });

  it('lets the jars rest, and asks for one review on the first morning after it, until it is settled', () => {
    const { book, lot, tasks } = opened();
    book.write('jarred', { lot, at: toRfc3339(at(1, 15)), jars: 40, jarMl: 720, brine: 'fresh', ingredients: [] }, at(1, 15));
    // Rested at 15:00 of day 15: the morning after. The packed jars are measured 24 h after packing at the earliest (extension pages on acidified foods).
    expect(tasks(2).map(({ kind, dueAt }) => [kind, dueAt])).toEqual([['print-labels', at(2)], ['measure-jars', at(3)], ['rest', at(16)]]);
    book.write('task-done', { task: `${lot}-print-labels-1`, entry: null }, at(2));
    const review = tasks(16).find(({ kind }) => kind === 'review');
    expect(review).toMatchObject({ dueAt: at(16) });
    book.write('task-done', { task: review?.id ?? '', entry: null }, at(16));
    expect(tasks(17).map(({ kind }) => kind)).toEqual(['measure-jars']);
    book.write('task-skipped', { task: tasks(17)[0]?.id ?? '', reason: 'for our own table' }, at(17));
    expect(tasks(18)).toEqual([]);
  });
});

describe('looking in', () => {
  const look = (tasks: readonly Task[]) => tasks.find(({ kind }) => kind === 'look');

  it('is asked a week after anybody had the lid off, for whatever reason', () => {
    const { book, lot, tasks, changed } = opened();
    expect(look(tasks(0))?.dueAt).toBe(at(7));
    changed(2);
    expect(look(tasks(2))?.dueAt).toBe(at(9));
    book.write('skimmed', { lot, at: toRfc3339(at(5, 9)) }, at(5));
    expect(look(tasks(5))?.dueAt).toBe(at(12));
    // A probe or a cup sample tells nothing of film and plate.
    book.write('measured', { lot, at: toRfc3339(at(8, 9)), quantity: 'ph', value: 5 }, at(8));
    expect(look(tasks(8))?.dueAt).toBe(at(12));
  });

  it('counts a change that settled its own task', () => {
    const { book, tasks, change, changed } = opened();
    const task = change(2).id;
    book.write('task-done', { task, entry: changed(2) }, at(2));
    expect(look(tasks(2))?.dueAt).toBe(at(9));
  });

  it('is done by saying so, or by what was topped up, and keeps its id until then', () => {
    const { book, lot, tasks } = opened({ style: 'kept-brine' });
    const first = look(tasks(0))?.id ?? '';
    expect(look(tasks(8))?.id).toBe(first);
    book.write('task-done', { task: first, entry: null }, at(8));
    expect(look(tasks(8))?.dueAt).toBe(at(15));
    const entry = book.write('brine-topped-up', { lot, at: toRfc3339(at(15, 9)), brineL: 1, saltGPerL: 90 }, at(15));
    book.write('task-done', { task: look(tasks(14))?.id ?? '', entry }, at(15));
    expect(look(tasks(15))).toMatchObject({ dueAt: at(22), overdue: false });
    expect(look(tasks(23))?.overdue).toBe(false);
    expect(look(tasks(24))?.overdue).toBe(true);
  });

  it('is never due where water is changed daily', () => {
    const { tasks, changed } = opened({ style: 'water-then-brine', saltGPerL: 0 });
    for (let day = 1; day < 9; day++) changed(day, 9, 0);
    expect(look(tasks(8))?.dueAt).toBe(at(15));
  });
});

describe('measuring salt', () => {
  const salt = (tasks: readonly Task[]) => tasks.find(({ kind }) => kind === 'measure-salt');

  // "24 to 48 hours after a change": practice advice, no source; the first morning that is at least a day away is always inside it.
  it('is due on a morning 24 to 48 hours after a change, once the changes are a week apart', () => {
    const { lot, tasks, changed } = opened();
    expect(salt(tasks(1))).toBeUndefined();
    for (const day of [2, 4]) changed(day);
    expect(salt(tasks(4))).toBeUndefined();
    changed(6, 9);
    expect(salt(tasks(6))).toMatchObject({ id: `${lot}-measure-salt-4`, dueAt: at(8) });
    const early = opened();
    for (const day of [2, 4, 6]) early.changed(day, 7.5);
    expect(salt(early.tasks(6))?.dueAt).toBe(at(7));
  });

  it('is settled by a measurement, but not by one taken right after pouring; the next change asks anew', () => {
    const { book, lot, tasks, changed } = opened();
    const measured = (day: number, hour: number) => book.write('measured', { lot, at: toRfc3339(at(day, hour)), quantity: 'salinity', value: 64 }, at(day, hour));
    for (const day of [2, 4, 6]) changed(day);
    measured(6, 10);
    expect(salt(tasks(8))).toBeDefined();
    measured(8, 9);
    expect(salt(tasks(8, 10))).toBeUndefined();
    changed(13);
    expect(salt(tasks(13))?.id).toBe(`${lot}-measure-salt-5`);
    book.write('task-skipped', { task: `${lot}-measure-salt-5`, reason: 'no hydrometer' }, at(15));
    expect(salt(tasks(15))).toBeUndefined();
  });

  it('tells what the balance of salt expects: 27 L at 100 g/L on 16 L of flesh water is going to 62 g/L, and rises with each brine', () => {
    const { tasks, changed } = opened();
    const expected = (day: number): number => Number(/About (\d+) g\/L/.exec(salt(tasks(day))?.text ?? '')?.[1]);
    for (const day of [2, 4, 6]) changed(day);
    const settled = (poured: number, flesh: number): number => (poured * 27 + flesh * 16.185) / (27 + 16.185);
    // Two days after the fourth brine: between where it settles and what was poured.
    const flesh = [1, 2, 3].reduce((held) => settled(100, held), 0);
    expect(expected(6)).toBeGreaterThan(settled(100, 0));
    expect(expected(6)).toBeLessThan(100);
    expect(expected(6)).toBeLessThan(settled(100, flesh) + 15);
  });

  it('is asked of kept brine on days 3 and 7, then fortnightly, and not where a salt probe watches', () => {
    const { book, lot, tasks } = opened({ style: 'kept-brine' });
    for (const day of [3, 7, 21]) {
      expect(salt(tasks(day - 1))?.dueAt).toBe(at(day));
      book.write('measured', { lot, at: toRfc3339(at(day, 9)), quantity: 'salinity', value: 70 }, at(day, 9));
    }
    book.write('placed', { probe: 'probe-9', channel: 'salinity', drum: 'barrel-1', from: toRfc3339(at(22)) }, at(22));
    expect(salt(tasks(40))).toBeUndefined();
  });

  it('is not asked of plain water', () => expect(salt(opened({ style: 'water-then-brine', saltGPerL: 0 }).tasks(5))).toBeUndefined());
});

describe('calibrating', () => {
  const find = (kind: Task['kind'], tasks: readonly Task[]) => tasks.find((task) => task.kind === kind);

  it('of the pH meter stands before the next measurement by hand, on its morning, for all drums together', () => {
    const { book, tasks } = opened({ style: 'kept-brine' });
    openDrum(book, start, { style: 'kept-brine' }, 'barrel-2', 'probe-2');
    const due = tasks(0).filter(({ dueAt }) => dueAt === at(3)).map(({ kind }) => kind);
    expect(due).toEqual(['calibrate-ph', 'measure-ph', 'measure-ph', 'measure-salt', 'measure-salt']);
    expect(find('calibrate-ph', tasks(0))).toMatchObject({ id: 'calibrate-ph-1', drum: 'barrel-1' });
  });

  it('lasts a week: a measurement four days later needs none, one seven days later does', () => {
    const { book, lot, tasks } = opened({ style: 'kept-brine' });
    const measured = (day: number) => book.write('measured', { lot, at: toRfc3339(at(day, 9)), quantity: 'ph', value: 5 }, at(day, 9));
    book.write('task-done', { task: 'calibrate-ph-1', entry: null }, at(3));
    expect(find('calibrate-ph', tasks(3))).toBeUndefined();
    measured(3);
    expect(find('calibrate-ph', tasks(3))).toBeUndefined();
    measured(7);
    expect(find('calibrate-ph', tasks(7))).toMatchObject({ id: 'calibrate-ph-2', dueAt: at(10) });
  });

  it('is settled by a calibration that is written down, but not by that of an electrode that watches another drum', () => {
    const { book, tasks } = opened({ style: 'kept-brine' });
    const calibrate = (probe: string) => book.write('calibrated', { probe, kind: 'ph', points: [{ ph: 4.01, mv: 170 }, { ph: 7, mv: 0 }], temperatureC: 20, at: toRfc3339(at(2)) }, at(2));
    book.write('drum-added', { id: 'barrel-9', name: 'Barrel 9', volumeL: 60, insulated: false }, at(0));
    book.write('placed', { probe: 'probe-9', channel: 'ph', drum: 'barrel-9', from: toRfc3339(at(0)) }, at(0));
    calibrate('probe-9');
    expect(find('calibrate-ph', tasks(2))).toBeDefined();
    calibrate('meter-1');
    expect(find('calibrate-ph', tasks(2))).toBeUndefined();
  });

  it('of the meter is not asked where pH is not measured by hand', () => expect(find('calibrate-ph', opened().tasks(2))).toBeUndefined());

  it('of thermometers is asked once a season, until each that watches fruit was in ice', () => {
    const { book, tasks } = opened();
    openDrum(book, start, { style: 'changed-brine' }, 'barrel-2', 'probe-2');
    const ice = (probe: string) => book.write('calibrated', { probe, kind: 'ice-point', readingC: 0.2, referenceC: 0, at: toRfc3339(at(0)) }, at(0));
    expect(tasks(0).filter(({ kind }) => kind === 'calibrate-temperature')).toMatchObject([{ id: 'calibrate-temperature-2026', dueAt: at(1), drum: 'barrel-1' }]);
    ice('probe-1');
    expect(find('calibrate-temperature', tasks(0))).toMatchObject({ id: 'calibrate-temperature-2026', drum: 'barrel-2' });
    ice('probe-2');
    expect(find('calibrate-temperature', tasks(0))).toBeUndefined();
  });

  it('of thermometers may be skipped for the season', () => {
    const { book, tasks } = opened();
    book.write('task-skipped', { task: 'calibrate-temperature-2026', reason: 'new ones' }, at(1));
    expect(find('calibrate-temperature', tasks(2))).toBeUndefined();
  });
});

describe('ordering ahead', () => {
  const order = (book: ShedBook, day: number, readyDay: number) => tasksOf(book.shed, at(day), zone, new Map([['barrel-1-a', at(readyDay)]])).find(({ kind }) => kind === 'order-jars');

  it('is due three weeks before the fruit may be sweet, once, with about how many jars', () => {
    const { book } = opened();
    expect(order(book, 5, 40)).toBeUndefined();
    expect(order(book, 18.5, 40)).toMatchObject({ id: 'barrel-1-a-order-jars-1', dueAt: at(19), needs: { jars: 71 }, overdue: false });
    expect(order(book, 5, 10)).toMatchObject({ dueAt: at(1), overdue: false });
    book.write('task-done', { task: 'barrel-1-a-order-jars-1', entry: null }, at(20));
    expect(order(book, 21, 40)).toBeUndefined();
  });

  it('is one order for all that is due, and what becomes due after it asks anew', () => {
    const { book } = opened();
    for (const number of [2, 3]) openDrum(book, start, { style: 'changed-brine' }, `barrel-${number}`, `probe-${number}`);
    const ready = new Map([['barrel-1-a', at(40)], ['barrel-2-a', at(42)], ['barrel-3-a', at(60)]]);
    const orders = (day: number) => tasksOf(book.shed, at(day, 9), zone, ready).filter(({ kind }) => kind === 'order-jars');
    expect(orders(19).map(({ id, needs, text }) => ({ id, needs, names: /: (.*?)\. About/.exec(text)?.[1] }))).toEqual([{ id: 'barrel-1-a-order-jars-1', needs: { jars: 71 }, names: 'Barrel 1' }]);
    expect(orders(21)).toMatchObject([{ id: 'barrel-1-a-order-jars-1', dueAt: at(19), needs: { jars: 142 }, overdue: false }]);
    expect(orders(34)).toMatchObject([{ overdue: true }]);
    book.write('task-done', { task: 'barrel-1-a-order-jars-1', entry: null }, at(22));
    expect(orders(22)).toEqual([]);
    expect(orders(39)).toMatchObject([{ id: 'barrel-3-a-order-jars-1', drum: 'barrel-3', needs: { jars: 71 } }]);
  });

  it('is not asked by whoever makes no forecasts', () => expect(opened().tasks(30).some(({ kind }) => kind === 'order-jars')).toBe(false));
});

describe('today', () => {
  it('lists every drum, soonest first, and gives each drum its next', () => {
    const book = createShedBook();
    openDrum(book, start, { style: 'changed-brine' });
    openDrum(book, start, { style: 'water-then-brine', saltGPerL: 0 }, 'barrel-2', 'probe-2');
    const all = tasksOf(book.shed, at(0, 9), zone);
    expect(all.map(({ drum, kind }) => `${drum} ${kind}`)).toEqual(['barrel-1 calibrate-temperature', 'barrel-2 change-water', 'barrel-1 change-brine', 'barrel-1 look', 'barrel-2 look', 'barrel-1 taste']);
    expect(nextTask(book.shed, 'barrel-1', at(0, 9), zone)).toMatchObject({ kind: 'change-brine' });
    expect(nextTask(book.shed, 'barrel-3', at(0, 9), zone)).toBeNull();
  });
});
