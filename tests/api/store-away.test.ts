import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { dayMs, minuteMs } from '#contract';
import { toRfc3339 } from '#domain/units/time.ts';
import { expectProblem, harnessStart, openApiHarness, openShed, type ApiClient, type ApiHarness } from '../helpers/api-harness.ts';
import { influxPlace, type InfluxPlace } from '../helpers/influx-store.ts';
import { startInfluxd, type Influxd } from '../helpers/influxd.ts';

/** Readings in InfluxDB, ten days of them, and InfluxDB gone: what the screens are told. */
let influxd: Influxd;
let place: InfluxPlace;
let harness: ApiHarness;
let owner: ApiClient;
beforeAll(async () => {
  influxd = await startInfluxd();
}, 60_000);
afterAll(() => influxd.stop());

beforeEach(async () => {
  place = influxPlace(influxd);
  const collector = await place.open();
  const readings = Array.from({ length: 1_440 }, (_, index) => ({ series: 'p1/temperature' as const, at: harnessStart - (1_439 - index) * 10 * minuteMs, value: 18 + (index % 16) / 16, quality: 'good' as const }));
  await collector.append(readings);
  expect(await collector.settled()).toBe(true);
  await collector.close();
  harness = await openApiHarness({ store: await place.open({ readOnly: true }) });
  await openShed(harness);
  owner = await harness.as('owner');
}, 60_000);
afterEach(async () => {
  await harness.close();
  place.remove();
  await influxd.up();
});

const readingsOf = (from: number): ReturnType<ApiClient['fetch']> => owner.fetch(`/api/drums/barrel-1/readings?channel=temperature&points=100&from=${from}&to=${harnessStart}`);

describe('while InfluxDB is away', () => {
  it('what is now, what is due and the last days are told as always', async () => {
    const now = (await owner.call('drum', { params: { drum: 'barrel-1' } })).now;
    const day = (await readingsOf(harnessStart - dayMs)).body as { points: unknown[] };
    expect(day.points.length).toBeGreaterThan(70);
    await influxd.down();
    expect((await owner.call('drum', { params: { drum: 'barrel-1' } })).now).toEqual(now);
    expect(now.temperature).toMatchObject({ value: 18 + (1_439 % 16) / 16, at: toRfc3339(harnessStart) });
    expect((await readingsOf(harnessStart - dayMs)).body).toEqual(day);
    for (const path of ['/drums', '/tasks', '/probes', '/wall', '/alerts', '/probe-health', '/batches', '/heat-plan']) expect((await owner.fetch(`/api${path}`)).status, path).toBe(200);
    // A forecast holds for ten minutes; then it would have to be worked out from the whole cure.
    harness.clock.advance(11 * minuteMs);
    const [drum] = (await owner.call('drums')).drums;
    expect(drum?.batch?.forecast).toEqual({ unknown: 'the readings of this cure are in InfluxDB, which does not answer' });
    // The ribbon on the wall: three days, and before them a gap that says so.
    const [onWall] = (await owner.call('wall')).drums;
    expect(onWall?.ribbon?.gaps[0]).toEqual({ from: harnessStart - 10 * dayMs, to: harnessStart + 11 * minuteMs - 3 * dayMs });
    expect(onWall?.ribbon?.temperature.length).toBeGreaterThan(200);
  });

  it('older days are refused in words, and told again once it is back', async () => {
    const before = await readingsOf(harnessStart - 9 * dayMs);
    expect(before.status).toBe(200);
    await influxd.down();
    expect(expectProblem(await readingsOf(harnessStart - 9 * dayMs), 'not-ready').detail).toContain('InfluxDB does not answer');
    harness.faults.splice(0);
    await influxd.up();
    expect((await readingsOf(harnessStart - 9 * dayMs)).body).toEqual(before.body);
  });
});
