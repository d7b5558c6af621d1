import { describe, expect, it } from 'vitest';
import { tasksOf } from '#domain/cure/tasks.ts';
import { nowValue } from '#domain/reading/now.ts';
import { toRfc3339 } from '#domain/units/time.ts';
import { createShedBook, openDrum } from '../../helpers/shed-book.ts';

// Twice a day is the trade's way without probes: common practice, no source.
const zone = 'Europe/Rome';
const at = (day: number, hour: number): number => Date.parse('2026-09-07T00:00:00+02:00') + day * 86_400_000 + hour * 3_600_000;
const start = at(0, 9);

const withoutProbe = () => {
  const book = createShedBook();
  const lot = openDrum(book, start, { style: 'changed-brine' });
  book.write('placed', { probe: 'probe-1', channel: 'temperature', drum: null, from: toRfc3339(start) }, start);
  const task = (day: number, hour: number) => tasksOf(book.shed, at(day, hour), zone).find(({ kind }) => kind === 'measure-temperature');
  const measure = (day: number, hour: number, quantity: 'temperature' | 'ph' = 'temperature'): number =>
    book.write('measured', { lot, at: toRfc3339(at(day, hour)), quantity, value: 18, instrument: 'kitchen-thermometer' }, at(day, hour));
  return { book, lot, task, measure };
};

describe('a drum no probe watches', () => {
  it('is measured morning and evening, from the first evening on', () => {
    const { lot, task, measure } = withoutProbe();
    expect(task(0, 10)).toMatchObject({ dueAt: at(0, 18), id: `${lot}-measure-temperature-2` });
    measure(0, 17);
    expect(task(0, 19)).toMatchObject({ dueAt: at(1, 8), id: `${lot}-measure-temperature-3` });
    measure(1, 8.5);
    expect(task(1, 9)?.dueAt).toBe(at(1, 18));
  });

  it('asks for this round, not for those nobody walked', () => {
    const { task, measure } = withoutProbe();
    expect(task(3, 9)?.dueAt).toBe(at(3, 8));
    expect(task(3, 4)?.dueAt).toBe(at(2, 18));
    measure(3, 9);
    expect(task(3, 9)?.dueAt).toBe(at(3, 18));
    // What was read at noon is not the temperature of the evening, and a pH is no temperature.
    measure(3, 12);
    measure(3, 18, 'ph');
    expect(task(3, 18.5)).toMatchObject({ dueAt: at(3, 18), overdue: false });
    expect(task(4, 0.5)).toMatchObject({ dueAt: at(3, 18), overdue: true });
  });

  it('lets a round go that is skipped, or taken back', () => {
    const { book, lot, task, measure } = withoutProbe();
    book.write('task-skipped', { task: `${lot}-measure-temperature-3`, reason: 'market day' }, at(1, 9));
    expect(task(1, 10)?.dueAt).toBe(at(1, 18));
    const entry = measure(1, 18);
    book.write('task-done', { task: `${lot}-measure-temperature-4`, entry }, at(1, 18));
    expect(task(1, 19)?.dueAt).toBe(at(2, 8));
    book.write('corrected', { entry, reason: 'the wrong drum', replacement: null }, at(1, 19));
    expect(task(1, 20)?.dueAt).toBe(at(1, 18));
  });

  it('keeps to the hour of the wall across the change of clocks', () => {
    // Clocks in Rome go back on 25 October 2026.
    const { task } = withoutProbe();
    expect(task(48, 12)).toMatchObject({ dueAt: Date.parse('2026-10-25T08:00:00+01:00') });
  });

  it('is not asked for where a probe watches, nor in jars', () => {
    const { book, lot, task } = withoutProbe();
    book.write('placed', { probe: 'probe-1', channel: 'temperature', drum: 'barrel-1', from: toRfc3339(at(1, 8)) }, at(1, 8));
    expect(task(1, 9)).toBeUndefined();
    book.write('placed', { probe: 'probe-1', channel: 'temperature', drum: null, from: toRfc3339(at(2, 8)) }, at(2, 8));
    expect(task(2, 9)).toBeDefined();
    book.write('jarred', { lot, at: toRfc3339(at(2, 10)), jars: 20, jarMl: 720, brine: '6 %', ingredients: ['olives', 'water', 'salt'] }, at(2, 10));
    expect(task(2, 11)).toBeUndefined();
  });
});

it('a temperature of last evening is current in the morning, and not in the next evening; a pH for days', () => {
  const measured = { value: 18, at: at(1, 18) };
  const now = (channel: 'temperature' | 'ph', day: number, hour: number) => nowValue({ channel, watched: false, recent: [], staleAfterMs: 600_000, trendPerHour: null, measured }, at(day, hour));
  expect(now('temperature', 2, 8)).toMatchObject({ quality: 'good', source: 'person' });
  expect(now('temperature', 2, 18)).toMatchObject({ quality: 'stale', value: 18 });
  expect(now('ph', 4, 18)).toMatchObject({ quality: 'good' });
});
