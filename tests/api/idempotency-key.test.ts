import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { dayMs, hourMs, minuteMs, routes, type StoryEntry } from '#contract';
import { toRfc3339 } from '#domain/units/time.ts';
import { addressOf, expectProblem, harnessStart, openApiHarness, openShed, type Answer, type ApiClient, type ApiHarness } from '../helpers/api-harness.ts';

/** IETF draft-ietf-httpapi-idempotency-key-header, section 2: a request repeated with the same key is carried out once and answered alike. */
let harness: ApiHarness;
let helper: ApiClient;
let lot: string;
beforeEach(async () => {
  harness = await openApiHarness();
  helper = await harness.as('helper');
  lot = await openShed(harness);
});
afterEach(() => harness.close());

const at = toRfc3339(harnessStart - hourMs);
const key = '0b6f9a52-7f4e-4c0e-9a5b-2f6c1d9e8a10';
const another = '0b6f9a52-7f4e-4c0e-9a5b-2f6c1d9e8a11';
const tasted = { kind: 'tasted', at, bitterness: 5 };
const post = (path: string, body: unknown, mark: string | null, client = helper): Promise<Answer> =>
  client.fetch(path, { method: 'POST', headers: { 'content-type': 'application/json', ...(mark === null ? {} : { 'idempotency-key': mark }) }, body: JSON.stringify(body) });
const add = (body: unknown, mark: string | null = key): Promise<Answer> => post(addressOf('addEntry', { params: { lot } }), body, mark);
const finish = async (id: string, body: unknown, mark = key): Promise<Answer> => post(addressOf('finishTask', { params: { id } }), body, mark);
const acts = async () => (await helper.call('batch', { params: { lot } })).entries;
const journal = async () => (await helper.call('journal')).entries;

describe('an act sent with a key', () => {
  it('is written once however often it is sent, and answered alike each time', async () => {
    const first = await add(tasted);
    expect(first.status).toBe(routes.addEntry.status);
    for (const again of [await add(tasted), await add(tasted)]) expect(again).toMatchObject({ status: first.status, body: first.body });
    expect(await acts()).toEqual([first.body]);
    expect((await journal()).filter(({ kind }) => kind === 'tasted')).toHaveLength(1);
  });

  it('would be written twice without one', async () => {
    await add(tasted, null);
    await add(tasted, null);
    expect(await acts()).toHaveLength(2);
  });

  it('is known after a restart, and weeks later', async () => {
    const first = await add(tasted);
    await harness.restart();
    harness.clock.advance(60 * dayMs);
    expect((await add(tasted)).body).toEqual(first.body);
    expect(await acts()).toHaveLength(1);
  });

  it('sent by five requests at the same moment is written once', async () => {
    const answers = await Promise.all(Array.from({ length: 5 }, () => add(tasted)));
    expect(new Set(answers.map(({ body }) => (body as StoryEntry).sequence)).size).toBe(1);
    expect(await acts()).toHaveLength(1);
  });

  it('does not stand for another act with a key of its own', async () => {
    await add(tasted);
    await add(tasted, another);
    expect(await acts()).toHaveLength(2);
  });

  it('does not show its key in the story, but in the journal', async () => {
    expect(JSON.stringify((await add(tasted)).body)).not.toContain(key);
    expect((await journal()).at(-1)?.body['key']).toBe(key);
  });
});

describe('a key that was used already', () => {
  it('is refused for an act of another kind, and for another lot', async () => {
    await add(tasted);
    expectProblem(await add({ kind: 'skimmed', at }), 'key-used');
    const owner = await harness.as('owner');
    await owner.call('addDrum', { body: { id: 'barrel-2', name: 'Barrel 2', volumeL: 60 } });
    const other = await owner.call('openBatch', { body: { drum: 'barrel-2', pickedAt: at, startedAt: at, cut: 'slit', style: 'changed-brine', maturity: 'green', fruitKg: 30, brineL: 27, saltGPerL: 100 } });
    expectProblem(await post(addressOf('addEntry', { params: { lot: other.lot } }), tasted, key), 'key-used');
    expect((await journal()).filter(({ kind }) => kind === 'tasted' || kind === 'skimmed')).toHaveLength(1);
  });

  it.each(['short', 'x'.repeat(65), 'fifteen fifteen fifteen'])('that is no key (%s) is refused before anything is written', async (bad) => {
    expect(expectProblem(await add(tasted, bad), 'does-not-fit').errors?.[0]?.path).toBe('Idempotency-Key');
    expect(await acts()).toEqual([]);
  });

  it('of a refused act is free: the mended act is written under it', async () => {
    expectProblem(await add({ ...tasted, bitterness: 11 }), 'does-not-fit');
    expect((await add(tasted)).status).toBe(routes.addEntry.status);
    expect(await acts()).toHaveLength(1);
  });
});

describe('a correction sent with a key', () => {
  it.each([
    ['that puts another act in place', { kind: 'tasted', at, bitterness: 3 }],
    ['that takes the act back', null],
  ])('%s is written once and answered alike', async (_what, replacement) => {
    const { sequence } = (await add(tasted, another)).body as StoryEntry;
    const correction = { kind: 'corrected', entry: sequence, reason: 'slip', replacement };
    const first = await add(correction);
    expect(first.status).toBe(routes.addEntry.status);
    expect(await add(correction)).toMatchObject({ status: first.status, body: first.body });
    expect((await journal()).filter(({ kind }) => kind === 'corrected')).toHaveLength(1);
  });

  it('does not bring back what was corrected since: the act under its key is told as it stands', async () => {
    const { sequence } = (await add(tasted)).body as StoryEntry;
    await add({ kind: 'corrected', entry: sequence, reason: 'slip', replacement: null }, another);
    expect((await add(tasted)).body).toMatchObject({ sequence, standing: false });
    expect((await acts()).filter(({ standing }) => standing)).toEqual([]);
  });
});

describe('a task done with a key', () => {
  const change = { kind: 'brine-changed', at, brineL: 27, saltGPerL: 100 };
  const open = async (): Promise<string> => (await helper.call('tasks')).tasks.find(({ kind }) => kind === 'change-brine')?.id ?? '';

  it('writes its act once: told again, the task is no longer open, and the act is answered by its key', async () => {
    const id = await open();
    const first = await finish(id, change);
    const { entry } = first.body as { entry: StoryEntry };
    expectProblem(await finish(id, change), 'not-found');
    expect((await add(change)).body).toEqual(entry);
    expect(await acts()).toEqual([entry]);
  });

  it('is still done when the program ended between the act and the task', async () => {
    // As it stands in the journal then: the act with its key, and no word about the task. An act this old settles no task by itself.
    const early = { ...change, at: toRfc3339(harnessStart - 10 * dayMs + minuteMs) };
    await add(early);
    const id = await open();
    const answer = await finish(id, early);
    expect(answer.status).toBe(routes.finishTask.status);
    expect(await acts()).toHaveLength(1);
    expect((await journal()).at(-1)).toMatchObject({ kind: 'task-done', body: { task: id, entry: (await acts())[0]?.sequence } });
  });
});
