import { afterEach, beforeEach, expect, it } from 'vitest';
import { openApiHarness, openShed, type ApiClient, type ApiHarness } from '../helpers/api-harness.ts';

let harness: ApiHarness;
let owner: ApiClient;
beforeEach(async () => {
  harness = await openApiHarness();
  owner = await harness.as('owner');
  await openShed(harness);
});
afterEach(() => harness.close());

const id = 'leach-temperature-high';
const limitOf = async (drum: string | null = null) => (await owner.call('limits')).limits.find((limit) => limit.id === id && limit.drum === drum);
const inForce = async () => {
  const { batches } = await owner.call('batches');
  return (await owner.call('batch', { params: { lot: batches[0]?.lot ?? '' } })).limits.find((limit) => limit.id === id);
};

it('each limit has a kind, a quantity, numbers, a priority and a source', async () => {
  const { limits } = await owner.call('limits');
  expect(limits.length).toBeGreaterThan(20);
  expect(new Set(limits.map((limit) => limit.id)).size).toBe(limits.length);
  expect(limits.filter(({ source }) => source.trim() === '')).toEqual([]);
  // UC Leaflet 2758 keeps home brine cures at 60 to 80 °F; the warm edge of the default stays below it.
  expect(await limitOf()).toMatchObject({ kind: 'range', quantity: 'temperature', unit: 'Cel', stage: 'leach', style: null, low: null, high: 25, priority: 'medium', drum: null });
});

it('a number changed for the site holds at once, under the name of who set it', async () => {
  const before = await limitOf();
  const { drum: _drum, ...limit } = before ?? { drum: null };
  expect(await owner.call('setLimit', { params: { id }, body: { high: 24 } })).toEqual({ ...limit, high: 24, source: 'set by owner' });
  expect(await limitOf()).toEqual({ ...before, high: 24, source: 'set by owner' });
  expect(await inForce()).toMatchObject({ high: 24, source: 'set by owner' });
  expect((await owner.call('journal')).entries.at(-1)).toMatchObject({ kind: 'limit-set', who: 'user:owner', body: { limit: id, drum: null, change: { high: 24, source: 'set by owner' } } });
});

it('a number may come with a source of its own', async () => {
  expect(await owner.call('setLimit', { params: { id }, body: { high: 24, source: 'my adviser' } })).toMatchObject({ high: 24, source: 'my adviser' });
});

it('the source stays where only the manner of alerting changes, or the number is the same', async () => {
  const before = await limitOf();
  await owner.call('setLimit', { params: { id }, body: { deadband: 1, onDelayS: 60, priority: 'low' } });
  expect(await limitOf()).toEqual({ ...before, deadband: 1, onDelayS: 60, priority: 'low' });
  await owner.call('setLimit', { params: { id }, body: { high: before?.high ?? null } });
  expect((await limitOf())?.source).toBe(before?.source);
});

it('a change for one drum wins there and leaves the site as it is', async () => {
  const before = await limitOf();
  await owner.call('setDrumLimit', { params: { drum: 'barrel-1', id }, body: { high: 22 } });
  expect(await limitOf()).toEqual(before);
  expect(await limitOf('barrel-1')).toMatchObject({ high: 22, drum: 'barrel-1', source: 'set by owner' });
  expect(await inForce()).toMatchObject({ high: 22 });
});

it('a drum that changed only the manner goes on with number and source of the site', async () => {
  await owner.call('setDrumLimit', { params: { drum: 'barrel-1', id }, body: { deadband: 2 } });
  await owner.call('setLimit', { params: { id }, body: { high: 23, source: 'my adviser' } });
  expect(await limitOf('barrel-1')).toMatchObject({ deadband: 2, high: 23, source: 'my adviser' });
});

it('a limit switched off stands for nothing, and says who did that', async () => {
  expect(await owner.call('setLimit', { params: { id }, body: { high: null } })).toMatchObject({ high: null, low: null, source: 'set by owner' });
});

it('low stays below high, also for a drum that has a number of its own', async () => {
  await owner.call('setDrumLimit', { params: { drum: 'barrel-1', id }, body: { high: 12 } });
  const { errors } = await owner.refused('setLimit', 'does-not-fit', { params: { id }, body: { low: 15 } });
  expect(errors).toEqual([{ path: 'low', message: expect.stringContaining('barrel-1') as string }]);
  expect(await owner.call('setLimit', { params: { id }, body: { low: 11 } })).toMatchObject({ low: 11, high: 25 });
});

it('holds after a restart', async () => {
  await owner.call('setLimit', { params: { id }, body: { high: 24 } });
  const { limits } = await owner.call('limits');
  await harness.restart();
  expect((await owner.call('limits')).limits).toEqual(limits);
});
