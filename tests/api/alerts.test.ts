import { afterEach, beforeEach, expect, it } from 'vitest';
import { minuteMs } from '#contract';
import { toRfc3339 } from '#domain/units/time.ts';
import { harnessStart, openApiHarness, openShed, warmAlert, type ApiClient, type ApiHarness } from '../helpers/api-harness.ts';

let harness: ApiHarness;
let owner: ApiClient;
let lot: string;
beforeEach(async () => {
  harness = await openApiHarness();
  owner = await harness.as('owner');
  lot = await openShed(harness);
});
afterEach(() => harness.close());

const raise = (id?: string) => {
  const body = warmAlert(harness, lot, id);
  harness.collectorWrites({ kind: 'alert-raised', body });
  return body;
};
const goBack = (id: string) => harness.collectorWrites({ kind: 'alert-returned', body: { id, until: toRfc3339(harness.clock.now()), at: toRfc3339(harness.clock.now()), peak: 32 } });
const alerts = async (state?: string) => (await owner.call('alerts', state === undefined ? {} : { query: { state } })).alerts;
const states = async (state: string) => (await alerts(state)).map((alert) => [alert.id, alert.state]);

it('an alert tells what, where, how bad, since when, and what to do', async () => {
  const { id } = raise();
  expect(await alerts()).toEqual([
    {
      id,
      drum: 'barrel-1',
      lot,
      rule: 'leach-temperature-danger',
      quantity: 'temperature',
      priority: 'high',
      state: 'unacknowledged',
      since: toRfc3339(harnessStart),
      raisedAt: toRfc3339(harnessStart),
      returnedAt: null,
      acknowledgedBy: null,
      shelf: null,
      actions: [],
      value: 31,
      peak: 31,
      limit: { value: 30, unit: 'Cel', source: 'a source', side: 'high' },
      act: 'Cool the drum now',
      text: 'Barrel 1 is warm.',
      advice: 'Cool it.',
    },
  ]);
  const drum = await owner.call('drum', { params: { drum: 'barrel-1' } });
  expect(drum).toMatchObject({ alerts: await alerts(), flag: { state: 'danger', word: 'hot' } });
});

// IEC 62682, the states of an alarm: acknowledging is its own event, apart from the return to normal.
it('is acknowledged while it lasts, and is over when the value comes back', async () => {
  const { id } = raise();
  const helper = await harness.as('helper');
  expect(await helper.call('acknowledge', { params: { id } })).toMatchObject({ state: 'acknowledged', acknowledgedBy: 'helper' });
  expect((await owner.call('journal')).entries.at(-1)).toMatchObject({ kind: 'alert-acknowledged', who: 'user:helper', body: { id } });
  goBack(id);
  expect(await alerts()).toEqual([]);
  expect(await states('all')).toEqual([[id, 'normal']]);
});

it('that came back unseen stays up until somebody has taken notice', async () => {
  const { id } = raise();
  harness.clock.advance(minuteMs);
  goBack(id);
  expect(await alerts()).toMatchObject([{ state: 'returned', returnedAt: toRfc3339(harness.clock.now()), peak: 32 }]);
  expect(await owner.call('acknowledge', { params: { id } })).toMatchObject({ state: 'normal' });
  expect(await alerts('active')).toEqual([]);
});

it('acknowledged twice is acknowledged once, also when it was back already', async () => {
  const { id } = raise();
  const first = await owner.call('acknowledge', { params: { id } });
  const length = (await owner.call('journal')).entries.length;
  const helper = await harness.as('helper');
  expect(await helper.call('acknowledge', { params: { id } })).toEqual(first);
  expect((await owner.call('journal')).entries.length).toBe(length);
  goBack(id);
  expect(await helper.call('acknowledge', { params: { id }, body: {} })).toMatchObject({ state: 'normal', acknowledgedBy: 'owner' });
});

it('are asked for by state; active is every state but normal, newest first', async () => {
  for (const id of ['a', 'b', 'c', 'd']) {
    harness.clock.advance(minuteMs);
    raise(id);
  }
  await owner.call('acknowledge', { params: { id: 'b' } });
  goBack('c');
  goBack('d');
  await owner.call('acknowledge', { params: { id: 'd' } });
  expect(await states('active')).toEqual([['c', 'returned'], ['b', 'acknowledged'], ['a', 'unacknowledged']]);
  expect(await alerts()).toEqual(await alerts('active'));
  expect(await states('unacknowledged')).toEqual([['a', 'unacknowledged']]);
  expect(await states('acknowledged')).toEqual([['b', 'acknowledged']]);
  expect(await states('returned')).toEqual([['c', 'returned']]);
  expect(await states('normal')).toEqual([['d', 'normal']]);
  expect(await states('shelved')).toEqual([]);
  expect(await states('all')).toHaveLength(4);
  expect((await owner.call('alerts', { query: { state: 'all', limit: 2 } })).alerts.map(({ id }) => id)).toEqual(['c', 'b']);
});
