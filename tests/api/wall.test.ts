import { afterEach, beforeEach, expect, it } from 'vitest';
import { hourMs, minuteMs } from '#contract';
import { toRfc3339 } from '#domain/units/time.ts';
import { harnessStart, openApiHarness, openShed, tenDaysMs, warmAlert, type ApiClient, type ApiHarness } from '../helpers/api-harness.ts';

let harness: ApiHarness;
let wall: ApiClient;
beforeEach(async () => {
  harness = await openApiHarness();
  wall = await harness.as('wall');
});
afterEach(() => harness.close());

it('an empty shed has no rows and nothing to count', async () => {
  expect(await wall.call('wall')).toEqual({ site: { name: 'Home', zone: 'UTC', keyFingerprint: null }, now: toRfc3339(harnessStart), air: { absent: 'no-probe' }, drums: [], counts: { alerts: 0, dueToday: 0, probes: 0, probesSilent: 0 } });
});

it('a row is the drum as it is told elsewhere, with its ribbon from the start of the cure to beyond now', async () => {
  const lot = await openShed(harness);
  const owner = await harness.as('owner');
  await harness.read('p1', Array.from({ length: 24 }, (_, hour) => 20 + hour / 24), { everyMs: hourMs, until: harnessStart - 2 * hourMs });
  await harness.read('air', [15], { channel: 'air-temperature' });
  await owner.call('addEntry', { params: { lot }, body: { kind: 'brine-changed', at: toRfc3339(harnessStart - 3 * hourMs), brineL: 27, saltGPerL: 100 } });
  const tasted = await owner.call('addEntry', { params: { lot }, body: { kind: 'tasted', at: toRfc3339(harnessStart - hourMs), bitterness: 5 } });
  const { drums, air, counts } = await wall.call('wall');
  const [row] = drums;
  const { ribbon, ...drum } = row ?? { ribbon: null };
  expect(drum).toEqual(await wall.call('drum', { params: { drum: 'barrel-1' } }));
  expect(air).toMatchObject({ value: 15, unit: 'Cel' });
  expect(counts).toMatchObject({ alerts: 0, probes: 2, probesSilent: 0 });
  expect(ribbon).toMatchObject({
    from: harnessStart - tenDaysMs,
    // The strictest of the limits of this stage, as the limits call gives them for the leach.
    band: { low: 5, high: 25 },
    changes: [{ t: harnessStart - 3 * hourMs }],
    tastings: [{ t: harnessStart - hourMs, bitterness: 5, sequence: tasted.sequence }],
    jarredAt: null,
    outside: [],
  });
  expect(ribbon?.to).toBeGreaterThanOrEqual(harnessStart);
  expect(ribbon?.gaps[0]).toMatchObject({ from: harnessStart - tenDaysMs });
  expect(ribbon?.temperature.length).toBeLessThanOrEqual(300);
});

it('an alert is counted and drawn for as long as it lasts; a silent probe is counted', async () => {
  const lot = await openShed(harness);
  harness.collectorWrites({ kind: 'alert-raised', body: warmAlert(harness, lot) });
  harness.clock.advance(30 * minuteMs);
  const { drums, counts } = await wall.call('wall');
  expect(counts).toMatchObject({ alerts: 1, probes: 1, probesSilent: 1 });
  expect(drums[0]).toMatchObject({ flag: { state: 'danger', word: 'hot' }, ribbon: { outside: [{ from: harnessStart, to: harnessStart + 30 * minuteMs, side: 'high' }] } });
});

it('a drum whose probe is silent is unknown, never inside', async () => {
  await openShed(harness);
  expect((await wall.call('wall')).drums[0]?.flag).toEqual({ state: 'inside', word: 'inside' });
  harness.clock.advance(11 * minuteMs);
  expect((await wall.call('wall')).drums[0]?.flag).toEqual({ state: 'unknown', word: 'silent' });
});
