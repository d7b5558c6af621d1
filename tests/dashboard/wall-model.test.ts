import { describe, expect, it } from 'vitest';
import type { Drum, Wall } from '#contract';
import type { Answered } from '../../dashboard/client/call.ts';
import { againMs, createWall, gatherMs } from '../../dashboard/state/wall.ts';
import { fixtureWall, warmAlert, withoutRibbon } from '../helpers/shed-fixture.ts';

const start = fixtureWall('full');
const isWall = (answer: Wall): Answered<'wall'> => ({ ok: true, value: answer });

/** Answers are given by hand, one load at a time; timers are run by hand. */
const createWorld = () => {
  const waiting: ((answer: Answered<'wall'>) => void)[] = [];
  const timers = new Map<() => void, number>();
  const synced: string[] = [];
  const model = createWall({
    load: () => new Promise((resolve) => void waiting.push(resolve)),
    sync: (serverNow) => synced.push(serverNow),
    after: (ms, run) => {
      timers.set(run, ms);
      return () => void timers.delete(run);
    },
  });
  const settle = async (answer: Answered<'wall'>, which = 0): Promise<void> => {
    waiting.splice(which, 1)[0]?.(answer);
    await Promise.resolve();
    await Promise.resolve();
  };
  const due = (ms: number): (() => void) | undefined => [...timers].find(([, after]) => after === ms)?.[0];
  const run = (ms: number): void => {
    const timer = due(ms);
    if (timer === undefined) throw new Error(`no timer of ${String(ms)} ms`);
    timers.delete(timer);
    timer();
  };
  return { model, waiting, settle, due, run, synced };
};

const loaded = async () => {
  const world = createWorld();
  void world.model.refresh();
  await world.settle(isWall(start));
  return world;
};

const drum = (id: string, change: Partial<Drum>): Drum => {
  const row = start.drums.find((candidate) => candidate.id === id);
  if (row === undefined) throw new Error(`no drum ${id}`);
  return { ...withoutRibbon(row), ...change };
};

describe('the model of the wall', () => {
  it('takes the time of the server with the wall', async () => {
    const { model, synced } = await loaded();
    expect(model.wall.value?.drums).toHaveLength(6);
    expect(synced).toEqual([start.now]);
  });

  it('shows a reading at once and fetches nothing for it', async () => {
    const { model, due } = await loaded();
    model.take({ name: 'drum', data: drum('barrel-2', { flag: { state: 'caution', word: 'warm' } }) });
    const row = model.wall.value?.drums.find(({ id }) => id === 'barrel-2');
    expect(row?.flag.word).toBe('warm');
    expect(row?.ribbon).toEqual(start.drums.find(({ id }) => id === 'barrel-2')?.ribbon);
    expect(due(gatherMs)).toBeUndefined();
  });

  it('fetches the wall once when stories have grown, however many', async () => {
    const { model, waiting, run } = await loaded();
    model.take({ name: 'drum', data: drum('barrel-2', { revision: 11 }) });
    model.take({ name: 'drum', data: drum('barrel-4', { revision: 12 }) });
    model.take({ name: 'task', data: { id: 'x', gone: true } });
    expect(waiting).toHaveLength(0);
    run(gatherMs);
    expect(waiting).toHaveLength(1);
  });

  it('does not go back to an older story', async () => {
    const { model } = await loaded();
    model.take({ name: 'drum', data: drum('barrel-2', { revision: 9, name: 'old' }) });
    expect(model.wall.value?.drums.find(({ id }) => id === 'barrel-2')?.name).toBe('Barrel 2');
  });

  it('asks again for a drum it has never seen', async () => {
    const { model, due } = await loaded();
    model.take({ name: 'drum', data: drum('barrel-2', { id: 'barrel-9' }) });
    expect(due(gatherMs)).toBeDefined();
  });

  it('shows a new alert at once and drops one that is normal again', async () => {
    const { model } = await loaded();
    const alerts = () => model.wall.value?.drums.find(({ id }) => id === 'barrel-2')?.alerts.map(({ id }) => id);
    const alert = { ...warmAlert, id: 'new', drum: 'barrel-2' };
    model.take({ name: 'alert', data: alert });
    expect(alerts()).toEqual(['new']);
    model.take({ name: 'alert', data: { ...alert, state: 'acknowledged' } });
    expect(alerts()).toEqual(['new']);
    model.take({ name: 'alert', data: { ...alert, state: 'normal' } });
    expect(alerts()).toEqual([]);
  });

  it('lets a slow old answer not undo a newer one', async () => {
    const { model, settle } = await loaded();
    void model.refresh();
    void model.refresh();
    await settle(isWall({ ...start, drums: start.drums.slice(0, 2) }), 1);
    await settle(isWall(start), 0);
    expect(model.wall.value?.drums).toHaveLength(2);
  });

  it('keeps the old wall and says so when an answer fails, tries soon again, and mends', async () => {
    const { model, settle, run, due } = await loaded();
    void model.refresh();
    await settle({ ok: false, error: { code: 'unreachable', title: 'No answer', detail: '', errors: [] } });
    expect(model.failure.value?.code).toBe('unreachable');
    expect(model.wall.value?.drums).toHaveLength(6);
    run(10_000);
    await settle(isWall(start));
    expect(model.failure.value).toBeNull();
    expect(due(againMs)).toBeDefined();
  });

  it('hears how the shed computer is', async () => {
    const { model, synced } = await loaded();
    model.take({ name: 'health', data: { status: 'degraded', version: '1', now: '2027-06-11T05:00:00.000Z', collector: { status: 'silent', since: null, memoryMb: null } } });
    expect(model.health.value?.collector?.status).toBe('silent');
    expect(synced.at(-1)).toBe('2027-06-11T05:00:00.000Z');
  });
});
