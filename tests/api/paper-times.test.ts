import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { dayMs, hourMs } from '#contract';
import { toRfc3339 } from '#domain/units/time.ts';
import { harnessStart, openApiHarness, openShed, type ApiClient, type ApiHarness } from '../helpers/api-harness.ts';

/** Records must be made when the thing is done (21 CFR 117.305 (d)): what is typed in later says when it stood on paper, and when it was typed. */
let harness: ApiHarness;
let helper: ApiClient;
let lot: string;
beforeEach(async () => {
  harness = await openApiHarness();
  helper = await harness.as('helper');
  lot = await openShed(harness);
});
afterEach(() => harness.close());

const at = toRfc3339(harnessStart - 6 * hourMs);
const writtenAt = toRfc3339(harnessStart - 5 * hourMs);

describe('an act from paper', () => {
  it('keeps three times apart: done, written on paper, entered', async () => {
    const entry = await helper.call('addEntry', { params: { lot }, body: { kind: 'measured', quantity: 'ph', value: 4.4, at, writtenAt } });
    expect(entry).toMatchObject({ at, writtenAt: toRfc3339(harnessStart), body: { quantity: 'ph', value: 4.4, writtenAt } });
    const { entries } = await helper.call('journal', { query: { limit: 1_000 } });
    expect(entries.at(-1)).toMatchObject({ time: toRfc3339(harnessStart), body: { at, writtenAt } });
  });

  it('may settle a task, and may be corrected by what another sheet says', async () => {
    const task = (await helper.call('tasks')).tasks.find(({ kind }) => kind === 'change-brine');
    const { entry } = await helper.call('finishTask', { params: { id: task?.id ?? '' }, body: { brineL: 27, saltGPerL: 100, at, writtenAt } });
    expect(entry).toMatchObject({ at, body: { writtenAt } });
    const corrected = await helper.call('addEntry', { params: { lot }, body: { kind: 'corrected', entry: entry?.sequence ?? 0, reason: 'read wrongly', replacement: { kind: 'brine-changed', at, writtenAt: '2026-10-03T10:00:00+03:00', brineL: 25, saltGPerL: 100 } } });
    expect(corrected.body).toMatchObject({ brineL: 25, writtenAt: '2026-10-03T07:00:00.000Z' });
  });

  it.each([
    ['before what it tells of', toRfc3339(harnessStart - 7 * hourMs)],
    ['ahead', toRfc3339(harnessStart + dayMs)],
    ['nowhere', 'this morning'],
  ])('is refused where its paper time lies %s, and nothing is written', async (_where, wrong) => {
    expect((await helper.refused('addEntry', 'does-not-fit', { params: { lot }, body: { kind: 'skimmed', at, writtenAt: wrong } })).errors?.map(({ path }) => path)).toEqual(['writtenAt']);
    expect((await helper.call('batch', { params: { lot } })).entries).toEqual([]);
  });

  it('needs no paper: without one nothing is said of it', async () => {
    expect((await helper.call('addEntry', { params: { lot }, body: { kind: 'skimmed', at } })).body).toEqual({});
  });
});
