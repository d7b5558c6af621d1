import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { hourMs, minuteMs } from '#contract';
import { toRfc3339 } from '#domain/units/time.ts';
import { collectorStatus } from '../helpers/collector-status.ts';
import { harnessStart, openApiHarness, type ApiClient, type ApiHarness } from '../helpers/api-harness.ts';

let harness: ApiHarness;
let owner: ApiClient;
beforeEach(async () => {
  harness = await openApiHarness();
  owner = await harness.as('owner');
  await harness.read('p1', [18, 19]);
  await owner.call('addDrum', { body: { id: 'barrel-1', name: 'Barrel 1', volumeL: 60 } });
});
afterEach(() => harness.close());

const params = { probe: 'p1' };

describe('probes', () => {
  it('are listed from their first reading on, with each channel, its unit and its last value', async () => {
    await harness.read('p1', [4.4], { channel: 'ph' });
    harness.clock.advance(minuteMs);
    const { probes } = await owner.call('probes');
    const at = toRfc3339(harnessStart);
    expect(probes).toEqual([
      {
        id: 'p1',
        channels: [
          { channel: 'ph', unit: 'pH', last: { value: 4.4, at, ageS: 60, quality: 'good' }, count: 1, placement: null },
          { channel: 'temperature', unit: 'Cel', last: { value: 19, at, ageS: 60, quality: 'good' }, count: 2, placement: null },
        ],
        presence: 'unknown',
        calibrations: [],
        health: 'ok', hasPassword: false, clock: null,
      },
    ]);
  });

  it('come unplaced ones first, because those need somebody', async () => {
    await harness.read('a-placed-one', [18]);
    await owner.call('place', { params: { probe: 'a-placed-one' }, body: { channel: 'temperature', drum: 'barrel-1' } });
    expect((await owner.call('probes')).probes.map(({ id }) => id)).toEqual(['p1', 'a-placed-one']);
  });

  it('say whether they are there, as the broker last heard, and whether they are silent or faulty', async () => {
    writeFileSync(join(harness.directory, 'collector-status.json'), JSON.stringify({ ...collectorStatus, writtenAt: harnessStart, presence: { p1: 'online', p2: 'offline' } }));
    await harness.read('p2', [18, 85], { quality: 'power-on' });
    harness.service.look();
    // A name that every object answers to is a name like another.
    await harness.read('constructor', [18]);
    expect((await owner.call('probes')).probes[0]).toMatchObject({ id: 'constructor', presence: 'unknown' });
    await owner.call('place', { params: { probe: 'constructor' }, body: { channel: 'temperature', drum: 'barrel-1' } });
    expect((await owner.call('probes')).probes).toMatchObject([{ id: 'p1', presence: 'online', health: 'ok' }, { id: 'p2', presence: 'offline', health: 'faulty' }, { id: 'constructor' }]);
    harness.clock.advance(hourMs);
    expect((await owner.call('probes')).probes).toMatchObject([{ health: 'silent' }, { health: 'faulty' }, { health: 'silent' }]);
  });

  it('tell of a wrong clock for a day, also of one nothing could be stored of', async () => {
    const clocks = { p1: { refused: 3, reason: 'time-in-future', at: harnessStart - hourMs }, 'p-ahead': { refused: 40, reason: 'time-before-2020', at: harnessStart }, 'p-past': { refused: 1, reason: 'time-in-future', at: harnessStart - 25 * hourMs } };
    writeFileSync(join(harness.directory, 'collector-status.json'), JSON.stringify({ ...collectorStatus, writtenAt: harnessStart, clocks }));
    harness.service.look();
    expect((await owner.call('probes')).probes).toMatchObject([
      { id: 'p-ahead', channels: [], health: 'unknown', clock: { refused: 40, reason: 'time-before-2020', at: toRfc3339(harnessStart) } },
      { id: 'p1', clock: { refused: 3, reason: 'time-in-future', at: toRfc3339(harnessStart - hourMs) } },
    ]);
    harness.clock.advance(23.5 * hourMs);
    expect((await owner.call('probes')).probes.map(({ id, clock }) => [id, clock === null])).toEqual([['p-ahead', false], ['p1', true]]);
    // What an earlier version left says nothing of clocks.
    const { clocks: _clocks, ...older } = collectorStatus;
    writeFileSync(join(harness.directory, 'collector-status.json'), JSON.stringify({ ...older, writtenAt: harnessStart }));
    harness.service.look();
    expect((await owner.call('probes')).probes.map(({ id, clock }) => [id, clock])).toEqual([['p1', null]]);
  });
});

describe('a placement', () => {
  it('answers what holds, from when, and is in the journal', async () => {
    const from = toRfc3339(harnessStart - hourMs);
    expect(await owner.call('place', { params, body: { channel: 'temperature', drum: 'barrel-1', from } })).toEqual({ probe: 'p1', channel: 'temperature', drum: 'barrel-1', from });
    expect((await owner.call('probes')).probes[0]?.channels[0]?.placement).toEqual({ drum: 'barrel-1', from });
    expect((await owner.call('journal')).entries.at(-1)).toMatchObject({ kind: 'placed', who: 'user:owner', body: { probe: 'p1', channel: 'temperature', drum: 'barrel-1', from } });
  });

  it('holds from now where nothing else is said, and is taken back with null', async () => {
    expect(await owner.call('place', { params, body: { channel: 'temperature', drum: 'barrel-1' } })).toMatchObject({ from: toRfc3339(harnessStart) });
    harness.clock.advance(minuteMs);
    expect(await owner.call('place', { params, body: { channel: 'temperature', drum: null } })).toMatchObject({ drum: null });
    expect((await owner.call('probes')).probes[0]?.channels[0]?.placement).toBeNull();
  });

  it('from a phone whose clock is a little ahead holds from now, so that it is in force at once', async () => {
    await owner.call('place', { params, body: { channel: 'temperature', drum: 'barrel-1', from: toRfc3339(harnessStart + 3 * minuteMs) } });
    expect((await owner.call('drum', { params: { drum: 'barrel-1' } })).now.temperature).toMatchObject({ value: 19 });
  });

  it('needs a probe that has spoken and a drum that is there', async () => {
    const body = { channel: 'temperature', drum: 'barrel-1' } as const;
    expect((await owner.refused('place', 'not-found', { params: { probe: 'p9' }, body })).detail).toContain('p9');
    expect((await owner.refused('place', 'not-found', { params, body: { ...body, drum: 'barrel-9' } })).detail).toContain('barrel-9');
    await owner.refused('calibrate', 'not-found', { params: { probe: '__proto__' }, body: { kind: 'ice-point', readingC: 0, referenceC: 0 } });
  });
});

describe('a calibration', () => {
  it('is written in the journal and told with its probe', async () => {
    const ph = { kind: 'ph' as const, points: [{ ph: 4, mv: 171 }, { ph: 7, mv: -1 }], temperatureC: 21 };
    const written = await owner.call('calibrate', { params, body: ph });
    expect(written).toMatchObject({ ...ph, probe: 'p1', by: 'owner', at: toRfc3339(harnessStart) });
    await owner.call('calibrate', { params, body: { kind: 'ice-point', readingC: 0.3, referenceC: 0 } });
    expect((await owner.call('probes')).probes[0]?.calibrations).toMatchObject([ph, { kind: 'ice-point', readingC: 0.3 }]);
  });
});
