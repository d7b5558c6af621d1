import { afterEach, beforeEach, expect, it } from 'vitest';
import { dayMs, hourMs } from '#contract';
import { toRfc3339 } from '#domain/units/time.ts';
import { harnessStart, openApiHarness, openShed, type ApiClient, type ApiHarness } from '../helpers/api-harness.ts';

/** Counting backwards: two weeks of rest (common practice, no source), a week until the pH of the jars agrees and a day to fill them (assumptions). */
let harness: ApiHarness;
let owner: ApiClient;
let lot: string;
beforeEach(async () => {
  harness = await openApiHarness();
  owner = await harness.as('owner');
  lot = await openShed(harness);
});
afterEach(() => harness.close());

const ask = (date: string) => owner.call('stall', { query: { date } });
const add = (body: object) => owner.call('addEntry', { params: { lot }, body: { at: toRfc3339(harnessStart - hourMs), ...body } as never });

it('names the mornings by which jars are filled, measured and released, and says what it assumes', async () => {
  // The worked example of the rule: market on 20 December, jars on 29 November, finished by 28 November.
  expect(await ask('2026-12-20')).toMatchObject({ date: '2026-12-20', finishBy: '2026-11-28T08:00:00.000Z', jarBy: '2026-11-29T08:00:00.000Z', releaseBy: '2026-12-06T08:00:00.000Z', assumed: ['restDays', 'phStableDays', 'jarringDays'] });
});

it('takes sweet fruit as finished, and a lot on hold with its hold', async () => {
  await add({ kind: 'tasted', bitterness: 1 });
  expect((await ask('2026-10-30')).curing).toMatchObject([{ lot, drum: 'barrel-1', onTheTable: 'p80', readyLikely: toRfc3339(harnessStart - hourMs), held: false }]);
  expect((await ask('2026-10-20')).curing).toMatchObject([{ onTheTable: 'no' }]);
  await add({ kind: 'hold', reason: 'smell' });
  expect((await ask('2026-10-30')).curing[0]).toMatchObject({ held: true, text: expect.stringContaining('on hold') as string });
});

it('does not call a lot without a forecast late', async () => {
  await owner.call('addDrum', { body: { id: 'crock', name: 'Crock', volumeL: 20 } });
  await owner.call('openBatch', { body: { drum: 'crock', pickedAt: '2026-09-20', startedAt: '2026-10-02', cut: 'whole', style: 'kept-brine', maturity: 'black', fruitKg: 10, brineL: 9, saltGPerL: 100 } });
  expect((await ask('2026-10-10')).curing.find(({ drum }) => drum === 'crock')).toMatchObject({ onTheTable: 'unknown', spareDays: null });
});

it('lists jars with their rest and what their pH says, not as ready by the calendar alone', async () => {
  await add({ kind: 'measured', quantity: 'ph', value: 4 });
  await add({ kind: 'jarred', jars: 60, jarMl: 720, brine: 'fresh', ingredients: ['olives'] });
  const rested = toRfc3339(harnessStart - hourMs + 14 * dayMs);
  expect((await ask('2026-10-12')).inJars).toMatchObject([{ lot, left: 60, readyAt: rested, rested: false, verdict: 'unknown' }]);
  expect((await ask('2026-10-18')).inJars).toMatchObject([{ rested: true, verdict: 'unknown', text: expect.stringContaining('unknown') as string }]);
});

it('refuses a day that is past, and what is no day', async () => {
  expect((await owner.refused('stall', 'bad-query', { query: { date: '2026-10-02' } })).errors).toMatchObject([{ path: 'date' }]);
  await owner.refused('stall', 'bad-query', { query: { date: 'Saturday' } });
});
