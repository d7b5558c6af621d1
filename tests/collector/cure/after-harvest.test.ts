import { beforeEach, describe, expect, test } from 'vitest';
import { afterHarvestKinds } from '#domain/cure/after-harvest.ts';
import { afterHarvestSteps } from '#domain/cure/after-harvest-steps.ts';
import { tasksOf } from '#domain/cure/tasks.ts';
import { dayMs, toRfc3339, type EpochMs } from '#domain/units/time.ts';
import { createShedBook, openDrum, type ShedBook } from '../../helpers/shed-book.ts';

/** Common practice, no source: what is washed, put away, gathered, written down and ordered when the last jar is filled. */
const zone = 'Europe/Athens';
/** 06:00 UTC is 08:00 in the winter of Athens and 09:00 in its summer. */
const start = Date.UTC(2026, 10, 2, 9);
const on = (day: number): EpochMs => start + day * dayMs;
let book: ShedBook;
beforeEach(() => {
  book = createShedBook();
});
const jar = (lot: string, day: number): number => book.write('jarred', { lot, at: toRfc3339(on(day)), jars: 50, jarMl: 720, brine: '8 %', ingredients: ['olives'] }, on(day));
const steps = (day: number) => afterHarvestSteps(book.shed, on(day), zone);
const days = (day: number) => steps(day).map(({ kind, dueAt }) => [kind, new Date(dueAt).toISOString()]);

describe('when the last batch is in jars', () => {
  test('everything falls due on its local morning, counted from the last pick, the last jarring and the first pick', () => {
    const [one, other] = [openDrum(book, on(0), {}, 'barrel-1'), openDrum(book, on(7), {}, 'barrel-2')];
    jar(other, 40);
    jar(one, 45);
    expect(days(46)).toEqual([
      // Jarred on 17 December; picked on 2 and 9 November.
      ['clean-drums', '2026-12-18T06:00:00.000Z'], ['store-probes', '2026-12-19T06:00:00.000Z'], ['gather-fallen', '2026-12-18T06:00:00.000Z'], ['write-loads', '2026-12-18T06:00:00.000Z'],
      ['prune', '2027-02-07T06:00:00.000Z'], ['order-buffers', '2027-09-21T05:00:00.000Z'],
    ]);
    expect(steps(46).map(({ id, batch }) => [id, batch.lot])).toEqual(afterHarvestKinds.map((kind) => [`${kind}-2026`, one]));
  });

  test('nothing before: not with fruit in a drum, not while a pick may still come, not of a jarring that lies ahead', () => {
    expect(steps(0)).toEqual([]);
    const [one, other] = [openDrum(book, on(0), {}, 'barrel-1'), openDrum(book, on(7), {}, 'barrel-2')];
    jar(one, 30);
    expect(steps(60)).toEqual([]);
    jar(other, 30);
    expect(steps(36)).toEqual([]);
    expect(steps(37)).toHaveLength(6);
    expect(steps(29)).toEqual([]);
  });

  test('each is done or left out once, and the next season ends them all', () => {
    const lot = openDrum(book, on(0), {}, 'barrel-1');
    jar(lot, 40);
    book.write('task-done', { task: 'clean-drums-2026', entry: null }, on(42));
    book.write('task-skipped', { task: 'prune-2026', reason: 'pruned last year' }, on(43));
    expect(steps(44).map(({ kind }) => kind)).toEqual(['store-probes', 'gather-fallen', 'write-loads', 'order-buffers']);
    openDrum(book, on(364), {}, 'barrel-2');
    expect(steps(365)).toEqual([]);
  });

  test('they stand among the tasks, with words that say they are common practice', () => {
    const lot = openDrum(book, on(0), {}, 'barrel-1');
    jar(lot, 40);
    const tasks = tasksOf(book.shed, on(47), zone).filter(({ id }) => id.endsWith('-2026') && !id.startsWith('calibrate'));
    expect(tasks.map(({ kind }) => kind)).toEqual(['clean-drums', 'gather-fallen', 'write-loads', 'store-probes', 'prune', 'order-buffers']);
    for (const { text, drum, overdue } of tasks) expect([text.endsWith('Common practice.'), drum, overdue]).toEqual([true, 'barrel-1', false]);
    expect(tasksOf(book.shed, on(48), zone).find(({ kind }) => kind === 'clean-drums')?.overdue).toBe(true);
  });
});
