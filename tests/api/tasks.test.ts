import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { dayMs, hourMs, type Task } from '#contract';
import { toRfc3339 } from '#domain/units/time.ts';
import { harnessStart, openApiHarness, openShed, type ApiClient, type ApiHarness } from '../helpers/api-harness.ts';

let harness: ApiHarness;
let helper: ApiClient;
let lot: string;
const open = async (batch: Parameters<typeof openShed>[1]): Promise<void> => {
  harness = await openApiHarness();
  helper = await harness.as('helper');
  lot = await openShed(harness, batch);
};
afterEach(() => harness.close());

const tasks = async () => (await helper.call('tasks')).tasks;
const taskOf = async (kind: string): Promise<Task> => {
  const task = (await tasks()).find((candidate) => candidate.kind === kind);
  if (task === undefined) throw new Error(`no task ${kind}`);
  return task;
};
const entries = async () => (await helper.call('batch', { params: { lot } })).entries;
const journal = async () => (await helper.call('journal')).entries;

describe('in a changed brine', () => {
  beforeEach(() => open({}));

  it('a task says what, where, for which lot, when, and whether it is overdue', async () => {
    const task = await taskOf('change-brine');
    expect(task).toMatchObject({ drum: 'barrel-1', lot, overdue: true });
    expect(task.id).toMatch(new RegExp(`^${lot}-change-brine-`));
    expect(Date.parse(task.dueAt)).toBeLessThan(harnessStart);
    expect(task.text).toContain('Barrel 1');
    expect(task.needs).toMatchObject({ brineL: 27 });
    expect((await helper.call('drum', { params: { drum: 'barrel-1' } })).nextTask).toEqual(task);
  });

  it('done with the fields of its act writes that act, and the next one is due later', async () => {
    const before = await taskOf('change-brine');
    const { task, entry } = await helper.call('finishTask', { params: { id: before.id }, body: { brineL: 27, saltGPerL: 100 } });
    expect(task).toEqual(before);
    expect(entry).toMatchObject({ kind: 'brine-changed', at: toRfc3339(harnessStart), by: 'helper', body: { brineL: 27, saltGPerL: 100 }, standing: true });
    expect(await entries()).toEqual([entry]);
    expect((await journal()).slice(-2)).toMatchObject([{ kind: 'brine-changed' }, { kind: 'task-done', who: 'user:helper', body: { task: before.id, entry: entry?.sequence } }]);
    const next = await taskOf('change-brine');
    expect(next.id).not.toBe(before.id);
    expect(Date.parse(next.dueAt)).toBeGreaterThan(harnessStart);
    expect(next.overdue).toBe(false);
  });

  it('may have been done earlier than it is written down', async () => {
    const at = toRfc3339(harnessStart - 5 * hourMs);
    expect((await helper.call('finishTask', { params: { id: (await taskOf('taste')).id }, body: { at, bitterness: 6, note: 'still strong' } })).entry).toMatchObject({ at, kind: 'tasted', body: { bitterness: 6, note: 'still strong' } });
  });

  it('is done once: the second of two people hears that it is no longer open, and nothing is written twice', async () => {
    const { id } = await taskOf('change-brine');
    const body = { brineL: 27, saltGPerL: 100 };
    await helper.call('finishTask', { params: { id }, body });
    const length = (await journal()).length;
    await helper.refused('finishTask', 'not-found', { params: { id }, body });
    await helper.refused('skipTask', 'not-found', { params: { id }, body: { reason: 'x' } });
    expect((await journal()).length).toBe(length);
  });

  it.each([
    [{}, ['brineL', 'saltGPerL']],
    [{ brineL: 27 }, ['saltGPerL']],
    [{ kind: 'tasted', bitterness: 5 }, ['kind']],
    [{ kind: 'corrected', entry: 1, reason: 'x', replacement: null }, ['kind']],
    [{ brineL: 27, saltGPerL: 100, at: toRfc3339(harnessStart + dayMs) }, ['at']],
    [{ brineL: 27, saltGPerL: 100, lot: 'HO26-ZZ' }, ['lot']],
  ])('is not done by %j: it stays open and nothing is written', async (body, paths) => {
    const before = await taskOf('change-brine');
    const { errors } = await helper.refused('finishTask', 'does-not-fit', { params: { id: before.id }, body });
    expect(errors?.map(({ path }) => path)).toEqual(paths);
    expect(await taskOf('change-brine')).toEqual(before);
    expect(await entries()).toEqual([]);
  });

  it('is skipped only with a reason, which is in the journal', async () => {
    const before = await taskOf('taste');
    const { errors } = await helper.refused('skipTask', 'does-not-fit', { params: { id: before.id }, body: {} });
    expect(errors?.map(({ path }) => path)).toEqual(['reason']);
    expect(await helper.call('skipTask', { params: { id: before.id }, body: { reason: 'no one at home' } })).toEqual({ task: before });
    expect((await journal()).at(-1)).toMatchObject({ kind: 'task-skipped', body: { task: before.id, reason: 'no one at home' } });
    expect((await taskOf('taste')).id).not.toBe(before.id);
  });

  it('comes back when the act that settled it is taken back', async () => {
    const before = await taskOf('change-brine');
    const { entry } = await helper.call('finishTask', { params: { id: before.id }, body: { brineL: 27, saltGPerL: 100 } });
    await helper.call('addEntry', { params: { lot }, body: { kind: 'corrected', entry: entry?.sequence ?? 0, reason: 'it was the other drum', replacement: null } });
    expect(await taskOf('change-brine')).toEqual(before);
  });

  it('of looking in is done by saying so, or by what was found and done there', async () => {
    const look = async (): Promise<string> => (await taskOf('look')).id;
    const done = async (body: object) => helper.call('finishTask', { params: { id: await look() }, body: { ...body } });
    expect((await done({})).entry).toBeNull();
    expect((await done({ brineL: 1, saltGPerL: 70 })).entry).toMatchObject({ kind: 'brine-topped-up', body: { brineL: 1, saltGPerL: 70 } });
    expect((await done({ kind: 'skimmed' })).entry).toMatchObject({ kind: 'skimmed' });
    expect((await helper.refused('finishTask', 'does-not-fit', { params: { id: await look() }, body: { kind: 'tasted', bitterness: 3 } })).errors?.map(({ path }) => path)).toEqual(['kind']);
  });

  it('of measuring salt writes a measurement of salt and no other', async () => {
    await helper.call('addEntry', { params: { lot }, body: { kind: 'measured', quantity: 'temperature', value: 18, at: toRfc3339(harnessStart) } });
    for (const days of [9, 8, 6]) await helper.call('addEntry', { params: { lot }, body: { kind: 'brine-changed', at: toRfc3339(harnessStart - days * dayMs), brineL: 27, saltGPerL: 100 } });
    const { id } = await taskOf('measure-salt');
    expect((await helper.refused('finishTask', 'does-not-fit', { params: { id }, body: { quantity: 'ph', value: 4 } })).errors?.map(({ path }) => path)).toEqual(['quantity']);
    expect((await helper.call('finishTask', { params: { id }, body: { value: 64 } })).entry).toMatchObject({ kind: 'measured', body: { quantity: 'salinity', value: 64 } });
    expect((await tasks()).some(({ kind }) => kind === 'measure-salt')).toBe(false);
  });

  it('of ordering ahead follows the forecast, and is done without an act', async () => {
    // Pitted fruit at 19 °C for ten days may be sweet within three weeks.
    expect((await tasks()).some(({ kind }) => kind === 'order-jars')).toBe(true);
    const { id, needs } = await taskOf('order-jars');
    expect(needs.jars).toBeGreaterThan(0);
    expect(await helper.call('finishTask', { params: { id }, body: {} })).toMatchObject({ task: { id }, entry: null });
    expect((await tasks()).some(({ kind }) => kind === 'order-jars')).toBe(false);
  });

  it('of calibrating stands beside a drum and is done without an act', async () => {
    const { id, drum } = await taskOf('calibrate-temperature');
    expect(drum).toBe('barrel-1');
    expect(await helper.call('finishTask', { params: { id }, body: {} })).toMatchObject({ task: { id }, entry: null });
    expect((await tasks()).some(({ kind }) => kind === 'calibrate-temperature')).toBe(false);
  });

  it('of a jarred batch is one look after the rest, which needs no fields and takes none', async () => {
    harness.collectorWrites({ kind: 'jarred', body: { lot, at: toRfc3339(harnessStart), jars: 60, jarMl: 500, brine: 'fresh', ingredients: [] } });
    harness.clock.advance(15 * dayMs);
    const { id } = await taskOf('review');
    expect((await tasks()).map(({ kind }) => kind)).toEqual(['print-labels', 'measure-jars', 'review']);
    expect((await helper.refused('finishTask', 'does-not-fit', { params: { id }, body: { bitterness: 1 } })).errors?.[0]?.path).toBe('bitterness');
    expect(await helper.call('finishTask', { params: { id }, body: {} })).toMatchObject({ task: { id }, entry: null });
    expect((await tasks()).map(({ kind }) => kind)).toEqual(['print-labels', 'measure-jars']);
  });
});

describe('in plain water', () => {
  beforeEach(() => open({ style: 'water-then-brine', saltGPerL: 0 }));

  it('a change is one of water unless something else is said', async () => {
    const { entry } = await helper.call('finishTask', { params: { id: (await taskOf('change-water')).id }, body: { brineL: 27 } });
    expect(entry).toMatchObject({ kind: 'brine-changed', body: { brineL: 27, saltGPerL: 0 } });
    expect((await helper.call('batch', { params: { lot } })).stage).toBe('soak');
  });

  it('a change may be the one to brine', async () => {
    const { entry } = await helper.call('finishTask', { params: { id: (await taskOf('change-water')).id }, body: { brineL: 27, saltGPerL: 100 } });
    expect(entry).toMatchObject({ body: { saltGPerL: 100 } });
    expect((await helper.call('batch', { params: { lot } })).stage).toBe('leach');
  });
});

describe('in a kept brine', () => {
  beforeEach(() => open({ style: 'kept-brine' }));

  it('pH is measured, and a temperature does not pass for it', async () => {
    const { id } = await taskOf('measure-ph');
    expect((await helper.refused('finishTask', 'does-not-fit', { params: { id }, body: { quantity: 'temperature', value: 18 } })).errors?.map(({ path }) => path)).toEqual(['quantity']);
    expect((await helper.call('finishTask', { params: { id }, body: { kind: 'measured', quantity: 'ph', value: 4.5 } })).entry).toMatchObject({ kind: 'measured', body: { quantity: 'ph', value: 4.5 } });
  });
});
