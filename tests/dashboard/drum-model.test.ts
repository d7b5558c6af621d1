import { describe, expect, it } from 'vitest';
import { ok, fail } from '#contract';
import type { Call, Failure } from '../../dashboard/client/call.ts';
import { createDrum } from '../../dashboard/state/drum.ts';
import type { Kept } from '../../dashboard/state/kept.ts';
import { createQueue, type Queue } from '../../dashboard/state/queue.ts';
import { createFixtureShed } from '../helpers/fixture-answers.ts';
import { fixtureWall } from '../helpers/shed-fixture.ts';

/** The invented shed behind the real client, without a wire. */
const createWorld = (state: 'full' | 'eight' = 'full') => {
  const shed = createFixtureShed(state);
  const asked: string[] = [];
  const refuse = new Map<string, Failure>();
  const paths: Readonly<Record<string, (params: Readonly<Record<string, string>>) => readonly [string, string]>> = {
    drum: ({ drum }) => ['get', `/api/drums/${drum ?? ''}`],
    batch: ({ lot }) => ['get', `/api/batches/${lot ?? ''}`],
    addEntry: ({ lot }) => ['post', `/api/batches/${lot ?? ''}/entries`],
    finishTask: ({ id }) => ['post', `/api/tasks/${id ?? ''}/done`],
    acknowledge: ({ id }) => ['post', `/api/alerts/${id ?? ''}/acknowledge`],
  };
  const call = (async (name: string, input: { params?: Record<string, string>; body?: unknown; key?: string } = {}) => {
    asked.push(name);
    const refused = refuse.get(name);
    if (refused !== undefined) return fail(refused);
    const [method, path] = paths[name]?.(input.params ?? {}) ?? ['', ''];
    const answer = shed.answer(method, path, new URLSearchParams(), input.body, input.key ?? null);
    return answer.status < 300 ? ok(answer.body) : fail(answer.body);
  }) as unknown as Call;
  return { shed, asked, refuse, call };
};

let keys = 0;
const queueOn = (call: Call): Queue => {
  let kept: readonly Kept[] = [];
  return createQueue({
    call, store: { read: () => kept, write: (next) => ((kept = next), true) }, now: () => Date.parse(at), newKey: () => `key-${String((keys += 1)).padStart(12, '0')}`, after: () => () => undefined, user: () => 'owner', connected: () => true,
  });
};

const at = '2027-06-11T04:54:00.000Z';
const gone: Failure = { code: 'not-found', title: '', detail: '', errors: [] };

describe('the model of a drum', () => {
  it('fetches the drum and what is in it', async () => {
    const { call } = createWorld();
    const model = createDrum('barrel-2', call, queueOn(call));
    await model.load();
    expect(model.drum.value?.name).toBe('Barrel 2');
    expect(model.batch.value?.lot).toBe('ST27-B9');
  });

  it('says when there is no such drum', async () => {
    const { call } = createWorld();
    const model = createDrum('barrel-77', call, queueOn(call));
    await model.load();
    expect(model.failure.value?.code).toBe('not-found');
  });

  it('finishes the open task with the act that it asked for', async () => {
    const { call, asked, shed } = createWorld();
    const model = createDrum('barrel-2', call, queueOn(call));
    await model.load();
    const answer = await model.write({ kind: 'brine-changed', at, brineL: 26, saltGPerL: 67 });
    expect(answer.state).toBe('sent');
    expect(asked).toContain('finishTask');
    expect(asked).not.toContain('addEntry');
    expect(shed.written).toHaveLength(1);
    expect(model.drum.value?.nextTask).toBeNull();
  });

  it('writes any other act beside the task', async () => {
    const { call, asked } = createWorld();
    const model = createDrum('barrel-2', call, queueOn(call));
    await model.load();
    await model.write({ kind: 'tasted', at, bitterness: 4 });
    expect(asked).toContain('addEntry');
    expect(model.batch.value?.entries.some(({ kind, body }) => kind === 'tasted' && body['bitterness'] === 4)).toBe(true);
  });

  it('still writes the act when somebody else has settled the task meanwhile', async () => {
    const { call, asked, refuse, shed } = createWorld();
    const model = createDrum('barrel-2', call, queueOn(call));
    await model.load();
    refuse.set('finishTask', gone);
    expect((await model.write({ kind: 'brine-changed', at, brineL: 26, saltGPerL: 67 })).state).toBe('sent');
    expect(asked.filter((name) => name === 'addEntry')).toHaveLength(1);
    expect(shed.written).toHaveLength(1);
  });

  it('does not write twice when the answer to the task is lost', async () => {
    const { call, asked, refuse } = createWorld();
    const model = createDrum('barrel-2', call, queueOn(call));
    await model.load();
    refuse.set('finishTask', { ...gone, code: 'unreachable' });
    expect((await model.write({ kind: 'brine-changed', at, brineL: 26, saltGPerL: 67 })).state).toBe('kept');
    expect(asked).not.toContain('addEntry');
  });

  it('shows an acknowledged alert as seen', async () => {
    const { call } = createWorld();
    const model = createDrum('barrel-3', call, queueOn(call));
    await model.load();
    const [alert] = model.drum.value?.alerts ?? [];
    expect(await model.acknowledge(alert?.id ?? '')).toBeNull();
    expect(model.drum.value?.alerts[0]?.state).toBe('acknowledged');
  });

  it('looks again only when the story has grown', async () => {
    const { call, asked } = createWorld();
    const model = createDrum('barrel-2', call, queueOn(call));
    await model.load();
    const before = asked.length;
    const { value } = model.drum;
    if (value === null) throw new Error('no drum');
    model.take({ name: 'drum', data: { ...value, flag: { state: 'caution', word: 'warm' } } });
    expect(model.drum.value?.flag.word).toBe('warm');
    expect(asked).toHaveLength(before);
    model.take({ name: 'drum', data: { ...value, id: 'barrel-4', revision: 99 } });
    expect(asked).toHaveLength(before);
    model.take({ name: 'drum', data: { ...value, revision: value.revision + 1 } });
    expect(asked.length).toBeGreaterThan(before);
  });

  it('knows from the wall what the drum is before the first answer, and without one', async () => {
    const { call, refuse } = createWorld();
    const known = fixtureWall('full').drums.find(({ id }) => id === 'barrel-2') ?? null;
    refuse.set('drum', { ...gone, code: 'unreachable' });
    const model = createDrum('barrel-2', call, queueOn(call), known);
    await model.load();
    expect(model.drum.value?.name).toBe('Barrel 2');
    expect(model.failure.value?.code).toBe('unreachable');
    expect((await model.write({ kind: 'skimmed', at })).state).toBe('sent');
  });
});
