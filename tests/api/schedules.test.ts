import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { dayMs } from '#contract';
import { toRfc3339 } from '#domain/units/time.ts';
import { harnessStart, openApiHarness, openShed, type ApiClient, type ApiHarness } from '../helpers/api-harness.ts';

let harness: ApiHarness;
let owner: ApiClient;
let lot: string;
beforeEach(async () => {
  harness = await openApiHarness();
  owner = await harness.as('owner');
  lot = await openShed(harness);
});
afterEach(() => harness.close());

const set = (style: string, body: object) => owner.call('setSchedule', { params: { style }, body: body as never });
const find = async (style: string, medium: string) => (await owner.call('schedules')).schedules.find((each) => each.style === style && each.medium === medium);

describe('schedules', () => {
  it('come with a source each, and none for a brine that is kept', async () => {
    const { schedules } = await owner.call('schedules');
    expect(schedules.map(({ style, medium }) => `${style} ${medium}`)).toEqual(['changed-brine water', 'changed-brine brine', 'water-then-brine water', 'water-then-brine brine']);
    for (const { steps, own, setBy } of schedules) expect({ sourced: steps.source.length > 10, own, setBy }).toEqual({ sourced: true, own: false, setBy: null });
    // Home curing guidance: water on cracked and slit olives is changed at least once a day.
    expect(await find('water-then-brine', 'water')).toMatchObject({ steps: { afterDays: [], thenEveryDays: [1] } });
    expect((await find('water-then-brine', 'water'))?.caution).toMatch(/limit of its own/);
    expect(await find('changed-brine', 'brine')).toMatchObject({ steps: { afterDays: [2, 2, 2], thenEveryDays: [7] }, caution: null });
  });

  it('set by the owner move what is due at once, stand in the journal under their source, and can be taken back', async () => {
    const at = toRfc3339(harnessStart - dayMs);
    await owner.call('addEntry', { params: { lot }, body: { kind: 'brine-changed', at, brineL: 27, saltGPerL: 100 } });
    const due = async () => Date.parse((await owner.call('tasks')).tasks.find(({ kind }) => kind === 'change-brine')?.dueAt ?? '');
    const before = await due();
    const usual = await find('changed-brine', 'brine');
    const answer = await set('changed-brine', { medium: 'brine', steps: { afterDays: [], thenEveryDays: [14] } });
    expect(answer).toEqual({ ...usual, steps: { afterDays: [], thenEveryDays: [14], source: 'set by owner' }, own: true, setBy: 'owner', setAt: toRfc3339(harnessStart) });
    expect(await find('changed-brine', 'brine')).toEqual(answer);
    expect(await due()).toBe(before + 12 * dayMs);
    expect((await owner.call('journal')).entries.at(-1)).toMatchObject({ kind: 'schedule-set', who: 'user:owner', body: { style: 'changed-brine', medium: 'brine', steps: { afterDays: [], thenEveryDays: [14], source: 'set by owner' } } });
    expect(await set('changed-brine', { medium: 'brine', steps: null })).toEqual(usual);
    expect(await due()).toBe(before);
  });

  it('may name a source of their own', async () => {
    expect(await set('changed-brine', { medium: 'water', steps: { afterDays: [1, 1], thenEveryDays: [2, 3], source: 'my aunt' } })).toMatchObject({ steps: { source: 'my aunt' } });
  });

  it.each([
    [{ medium: 'brine', steps: { afterDays: [], thenEveryDays: [] } }, 'steps.thenEveryDays'],
    [{ medium: 'brine', steps: { afterDays: [0], thenEveryDays: [7] } }, 'steps.afterDays.0'],
    [{ medium: 'brine', steps: { afterDays: [1.5], thenEveryDays: [7] } }, 'steps.afterDays.0'],
    [{ medium: 'brine', steps: { afterDays: [], thenEveryDays: [366] } }, 'steps.thenEveryDays.0'],
    [{ medium: 'oil', steps: null }, 'medium'],
    [{ medium: 'brine' }, 'steps'],
  ])('that make no sense are refused by their field: %j', async (body, path) => {
    expect((await owner.refused('setSchedule', 'does-not-fit', { params: { style: 'changed-brine' }, body })).errors?.map((each) => each.path)).toEqual([path]);
    expect((await owner.call('journal')).entries.some(({ kind }) => kind === 'schedule-set')).toBe(false);
  });

  it('are not set for kept brine, nor for a style there is not', async () => {
    expect((await owner.refused('setSchedule', 'does-not-fit', { params: { style: 'kept-brine' }, body: { medium: 'brine', steps: { afterDays: [], thenEveryDays: [7] } } })).errors?.[0]?.path).toBe('medium');
    await owner.refused('setSchedule', 'not-found', { params: { style: 'dry-salt' }, body: { medium: 'brine', steps: null } });
  });

  it('are told live to whoever listens: the task as it is due now', async () => {
    const stream = await owner.listen();
    await set('changed-brine', { medium: 'brine', steps: { afterDays: [30], thenEveryDays: [30] } });
    const { data } = await stream.find(({ name, data: told }) => name === 'task' && JSON.stringify(told).includes('2026-10-23T08:00:00.000Z'));
    expect(data).toMatchObject({ kind: 'change-brine', dueAt: '2026-10-23T08:00:00.000Z' });
    await stream.find(({ name }) => name === 'drum');
  });
});
