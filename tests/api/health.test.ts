import { rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { minuteMs, secondMs } from '#contract';
import { toRfc3339 } from '#domain/units/time.ts';
import { collectorStatus } from '../helpers/collector-status.ts';
import { harnessStart, openApiHarness, type ApiClient, type ApiHarness } from '../helpers/api-harness.ts';

let harness: ApiHarness;
let owner: ApiClient;
beforeEach(async () => {
  harness = await openApiHarness();
  owner = await harness.as('owner');
});
afterEach(() => harness.close());

const file = () => join(harness.directory, 'collector-status.json');
const collectorSays = (status: Partial<typeof collectorStatus> = {}) => {
  writeFileSync(file(), JSON.stringify({ ...collectorStatus, writtenAt: harness.machine.now(), ...status }));
  harness.service.look();
};
const alerts = async () => (await owner.call('alerts', { query: { state: 'all' } })).alerts;

describe('health', () => {
  it('tells a stranger only whether it runs, and which version', async () => {
    collectorSays();
    expect(await harness.stranger().call('health')).toEqual({ status: 'ok', version: '0.0.0' });
  });

  it('tells who is signed in about collector, broker, store, readings and outlets', async () => {
    collectorSays();
    const { startedAt: _startedAt, writtenAt: _writtenAt, presence: _presence, memoryMb, broker, store, readings } = collectorStatus;
    expect(await owner.call('health')).toEqual({ status: 'ok', version: '0.0.0', collector: { status: 'ok', since: null, memoryMb }, broker, store, readings, sources: [], outlets: [] });
  });

  it('tells of cables and buses, and is degraded while one is lost', async () => {
    const serial = { kind: 'serial', name: '/dev/ttyUSB0', state: 'ok', trouble: null, readings: 3, refused: { 'line-cut': 1 }, reopened: 0, lastReadingAt: Date.UTC(2026, 9, 3, 11), bytesDropped: 9, device: null, deviceChanges: 0 } as const;
    const modbus = { kind: 'modbus', name: 'tcp://host', state: 'ok', trouble: null, readings: 1, refused: {}, reopened: 0, lastReadingAt: null, units: [{ unit: 7, state: 'silent', answered: 0, failed: 2, lastAnswerAt: null }] } as const;
    collectorSays({ sources: [serial, modbus] });
    const shown = { ...serial, lastReadingAt: '2026-10-03T11:00:00.000Z' };
    expect(await owner.call('health')).toMatchObject({ status: 'ok', sources: [shown, modbus] });
    collectorSays({ sources: [{ ...serial, state: 'lost', trouble: 'the device is gone' }] });
    expect(await owner.call('health')).toMatchObject({ status: 'degraded', sources: [{ state: 'lost', trouble: 'the device is gone' }] });
  });

  it('is degraded when broker or store is lost', async () => {
    collectorSays({ broker: { ...collectorStatus.broker, status: 'lost' } });
    expect(await harness.stranger().call('health')).toMatchObject({ status: 'degraded' });
    collectorSays({ store: { kind: 'sqlite', status: 'lost' } });
    expect(await owner.call('health')).toMatchObject({ status: 'degraded', store: { status: 'lost' } });
  });

  it('is degraded while nothing has been heard of a collector', async () => {
    expect(await owner.call('health')).toMatchObject({ status: 'degraded', collector: { status: 'silent', since: null } });
  });

  it('bears a status file that cannot be read', async () => {
    writeFileSync(file(), '{"writtenAt":');
    harness.service.look();
    expect(await owner.call('health')).toMatchObject({ status: 'degraded' });
  });
});

// The default is one minute without a sign (assumption; its source is in the limit).
describe('a silent collector', () => {
  beforeEach(() => collectorSays());

  it('is nothing special for a minute', async () => {
    harness.machine.advance(60 * secondMs);
    harness.service.look();
    expect(await owner.call('health')).toMatchObject({ status: 'ok' });
    expect(await alerts()).toEqual([]);
  });

  it('raises one high alert of the API, which ends when the collector is heard again', async () => {
    harness.machine.advance(61 * secondMs);
    harness.clock.advance(61 * secondMs);
    for (let look = 0; look < 3; look += 1) harness.service.look();
    expect(await owner.call('health')).toMatchObject({ status: 'degraded', collector: { status: 'silent', since: toRfc3339(harnessStart) } });
    expect(await alerts()).toMatchObject([{ rule: 'collector-silent', priority: 'high', state: 'unacknowledged', drum: null, lot: null, limit: { value: 60, unit: 's' } }]);
    harness.clock.advance(minuteMs);
    collectorSays();
    expect(await alerts()).toMatchObject([{ state: 'returned', returnedAt: toRfc3339(harness.clock.now()) }]);
    expect(await owner.call('health')).toMatchObject({ status: 'ok', collector: { status: 'ok', since: null } });
  });

  it('that is still silent after a restart of the API keeps the one alert it has', async () => {
    harness.machine.advance(61 * secondMs);
    harness.service.look();
    await harness.restart();
    harness.machine.advance(61 * secondMs);
    harness.service.look();
    expect(await alerts()).toHaveLength(1);
  });

  it('is not yet called silent just after the API itself has started', async () => {
    rmSync(file());
    harness.machine.advance(10 * minuteMs);
    await harness.restart();
    harness.service.look();
    expect(await alerts()).toEqual([]);
  });

  it('raises nothing where the owner has switched that off, and is shown all the same', async () => {
    await owner.call('setLimit', { params: { id: 'collector-silent' }, body: { high: null } });
    harness.machine.advance(61 * secondMs);
    harness.service.look();
    expect(await alerts()).toEqual([]);
    expect(await owner.call('health')).toMatchObject({ status: 'degraded' });
  });
});

describe('the site', () => {
  it('says where it is and where probes send to', async () => {
    const wall = await harness.as('wall');
    expect(await wall.call('site')).toEqual({ site: 'home', name: 'Home', zone: 'UTC', version: '0.0.0', demo: false, mqtt: { host: '127.0.0.1', port: 1883, external: false }, now: toRfc3339(harnessStart), key: null });
  });
});
