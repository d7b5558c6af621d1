import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { hourMs, type Task } from '#contract';
import { createToday, dayPlan } from '../../dashboard/state/today.ts';
import { goTo, leftOut, startRound, stopOf, withoutSeen, withSeen } from '../../dashboard/state/round.ts';
import { fixtureNow, fixtureWall, fixtureZone } from '../helpers/shed-fixture.ts';

const drums = [{ id: 'b', name: 'Barrel B' }, { id: 'a', name: 'Barrel A' }, { id: 'c', name: 'Crock' }];
const task = (id: string, drum: string, dueInH: number, over: Partial<Task> = {}): Task => ({
  id, drum, lot: `L-${drum}`, kind: 'change-brine', dueAt: new Date(fixtureNow + dueInH * hourMs).toISOString(), overdue: false, title: 'Change the brine', text: '', needs: {}, ...over,
});
const plan = (tasks: readonly Task[], settled?: ReadonlySet<string>) => dayPlan(tasks, drums, fixtureNow, fixtureZone, settled);
const order = (tasks: readonly Task[]) => plan(tasks).drums.map(({ drum, tasks: due }) => [drum.id, ...due.map(({ id }) => id)]);

describe('the plan of a day', () => {
  it('follows the drums of the wall, overdue first in each', () => {
    expect(order([task('1', 'a', 1), task('2', 'b', 2), task('3', 'a', -30, { overdue: true }), task('4', 'a', -1), task('5', 'c', -2)])).toEqual([['b', '2'], ['a', '3', '4', '1'], ['c', '5']]);
  });

  it('ends at midnight of the shed: 14:24 in Adelaide, so 9 h 36 min from now', () => {
    const { drums: due, later } = plan([task('tonight', 'a', 9.5), task('tomorrow', 'a', 9.7), task('in six days', 'b', 6 * 24), task('in eight days', 'b', 8 * 24)]);
    expect(due.flatMap(({ tasks }) => tasks.map(({ id }) => id))).toEqual(['tonight']);
    expect(later.map(({ id }) => id)).toEqual(['tomorrow', 'in six days']);
  });

  it('ends at midnight also on the day the clocks go back, which has 25 hours', () => {
    // Europe/Rome, 25 October 2026: summer time ends at 01:00 UTC (Directive 2000/84/EC), so midnight comes 25 h after the last one.
    const start = Date.parse('2026-10-24T22:00:00Z');
    const at = (h: number): Task => task(String(h), 'a', 0, { dueAt: new Date(start + h * hourMs).toISOString() });
    const { drums: due } = dayPlan([at(0.5), at(24.5), at(25.5)], drums, start + hourMs, 'Europe/Rome');
    expect(due[0]?.tasks.map(({ id }) => id)).toEqual(['0.5', '24.5']);
  });

  it('adds up what is to be carried, water apart, without what is done already', () => {
    const tasks = [
      task('1', 'a', 1, { needs: { brineL: 16, saltG: 1_400 } }), task('2', 'b', 1, { needs: { brineL: 9, saltG: 850 } }), task('3', 'c', 1, { kind: 'change-water', needs: { brineL: 9 } }),
      task('4', 'a', 48, { needs: { brineL: 100, saltG: 9_000 } }),
    ];
    expect(plan(tasks).carry).toEqual({ brineL: 25, waterL: 9, saltG: 2_250 });
    expect(plan(tasks, new Set(['2', '3'])).carry).toEqual({ brineL: 16, waterL: 0, saltG: 1_400 });
    expect(plan(tasks, new Set(['2'])).drums.flatMap(({ tasks: due }) => due)).toHaveLength(3);
  });

  it('shows a drum that the wall does not know rather than lose its task', () => {
    expect(order([task('1', 'moved', 1)])).toEqual([['moved', '1']]);
  });

  it('leaves no due task out and none twice, whatever comes', () => {
    fc.assert(
      fc.property(fc.array(fc.record({ drum: fc.constantFrom('a', 'b', 'c', 'x'), dueInH: fc.double({ min: -500, max: 500, noNaN: true }), overdue: fc.boolean() }), { maxLength: 30 }), (given) => {
        const tasks = given.map(({ drum, dueInH, overdue }, index) => task(String(index), drum, dueInH, { overdue }));
        const shown = plan(tasks).drums.flatMap(({ tasks: due }) => due.map(({ id }) => id));
        expect(shown.toSorted()).toEqual(tasks.filter(({ dueAt }) => Date.parse(dueAt) < fixtureNow + 9.6 * hourMs).map(({ id }) => id).toSorted());
      }),
      { seed: 3, numRuns: 200 },
    );
  });
});

describe('the tasks of the shed', () => {
  it('are kept current by live messages', async () => {
    const model = createToday((async () => ({ ok: true, value: { tasks: [task('1', 'a', 1)] } })) as never);
    model.take({ name: 'task', data: task('2', 'b', 1) });
    expect(model.tasks.value).toBeNull();
    await model.load();
    model.take({ name: 'task', data: task('2', 'b', 1) });
    model.take({ name: 'task', data: { ...task('1', 'a', 1), overdue: true } });
    expect(model.tasks.value?.map(({ id, overdue }) => [id, overdue])).toEqual([['2', false], ['1', true]]);
    model.take({ name: 'task', data: { id: '2', gone: true } });
    expect(model.tasks.value?.map(({ id }) => id)).toEqual(['1']);
  });
});

describe('a round', () => {
  const round = startRound(fixtureWall('eight').drums);
  it('stops at every drum that holds fruit, in the order of the shed', () => {
    expect(round.stops).toEqual(['barrel-2', 'barrel-3', 'barrel-4', 'barrel-5', 'barrel-7', 'barrel-8']);
    expect(stopOf(round)).toBe('barrel-2');
  });

  it('goes no further back than the first drum and no further on than the end', () => {
    expect(goTo(round, -1).at).toBe(0);
    expect(stopOf(goTo(round, 99))).toBeNull();
    expect(goTo(goTo(round, 99), 5).at).toBe(5);
  });

  it('names the drums of which nothing was written, and takes one back that was', () => {
    const walked = withSeen(withSeen(withSeen(round, 'barrel-2'), 'barrel-2'), 'barrel-4');
    expect(walked.seen).toEqual(['barrel-2', 'barrel-4']);
    expect(leftOut(walked)).toEqual(['barrel-3', 'barrel-5', 'barrel-7', 'barrel-8']);
    expect(leftOut(withoutSeen(walked, 'barrel-4'))).toContain('barrel-4');
  });
});
