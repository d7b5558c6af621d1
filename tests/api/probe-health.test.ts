import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { dayMs, hourMs, minuteMs } from '#contract';
import { toRfc3339 } from '#domain/units/time.ts';
import { harnessStart, openApiHarness, type ApiClient, type ApiHarness } from '../helpers/api-harness.ts';

let harness: ApiHarness;
let owner: ApiClient;
beforeEach(async () => {
  harness = await openApiHarness();
  owner = await harness.as('owner');
  await owner.call('addDrum', { body: { id: 'barrel-1', name: 'Barrel 1', volumeL: 60 } });
});
afterEach(() => harness.close());

const kindsOf = async (id: string): Promise<string[]> => ((await owner.call('probeHealths')).probes.find((probe) => probe.id === id)?.signs ?? []).map(({ kind }) => kind);

describe('the health of probes', () => {
  it('is told from their readings: one that fell silent, one that is fixed, one beside another', async () => {
    const daily = (mean: number, swing: number, lagHours = 0): number[] => Array.from({ length: 145 }, (_, index) => mean + swing * Math.sin((2 * Math.PI * (index / 6 - lagHours)) / 24));
    const options = { everyMs: 10 * minuteMs };
    await harness.read('shed-air', daily(18, 6), { ...options, channel: 'air-temperature' });
    await harness.read('still', Array.from({ length: 145 }, () => 17.25), options);
    await harness.read('one', daily(17, 1.8, 4.5), options);
    await harness.read('two', daily(18.6, 1.8, 4.5), options);
    await harness.read('gone', daily(17, 1.8, 4.5), { ...options, until: harnessStart - 3 * hourMs });
    for (const probe of ['one', 'two']) await owner.call('place', { params: { probe }, body: { channel: 'temperature', drum: 'barrel-1', from: toRfc3339(harnessStart - 2 * dayMs) } });
    expect([await kindsOf('still'), await kindsOf('one'), await kindsOf('two'), await kindsOf('gone'), await kindsOf('shed-air')]).toEqual([['stuck'], ['apart'], ['apart'], ['silent'], []]);
    const one = (await owner.call('probeHealths')).probes.find(({ id }) => id === 'one');
    expect(one).toMatchObject({ intervalS: 600, signs: [{ state: 'caution', title: 'Reads 1.6 ° below the other probe of this drum' }], placements: [{ channel: 'temperature', drum: 'barrel-1' }] });
    // When all are gone it is no probe that failed.
    harness.clock.advance(6 * hourMs);
    expect([await kindsOf('still'), await kindsOf('gone')]).toEqual([['all-silent'], ['all-silent']]);
  });

  it('calls no logger silent whose readings came from a file', async () => {
    await harness.read('old-logger', [17, 18, 19], { until: harnessStart - 20 * hourMs });
    expect(await kindsOf('old-logger')).toEqual(['silent']);
    const mapping = { delimiter: ',', skipRows: 1, timeColumns: [0], timeFormat: 'iso', zone: 'UTC', valueColumn: 1, decimal: '.', unit: 'Cel', channel: 'temperature', probe: 'old-logger' } as const;
    const body = { id: '20261003-0123abcd', file: 'a.csv', bytes: 1, digest: '', mapping };
    harness.collectorWrites({ kind: 'import-ordered', body });
    harness.collectorWrites({ kind: 'import-finished', body: { id: body.id, rows: 3, stored: 3, duplicates: 0, conflicts: 0, refused: {}, from: toRfc3339(harnessStart - 21 * hourMs), to: toRfc3339(harnessStart - 20 * hourMs) } });
    expect((await owner.call('probeHealths')).probes).toMatchObject([{ id: 'old-logger', isFromFile: true, signs: [] }]);
    expect((await owner.call('probes')).probes).toMatchObject([{ health: 'unknown' }]);
    expect((await owner.call('wall')).counts).toMatchObject({ probes: 0, probesSilent: 0 });
    // Once it speaks by itself it may fall silent.
    await harness.read('old-logger', [17, 18, 19], { until: harnessStart - 10 * hourMs });
    expect((await owner.call('probeHealths')).probes).toMatchObject([{ isFromFile: false, signs: [{ kind: 'silent' }] }]);
  });

  it('tells the battery of a probe, and its electrode by the last calibration', async () => {
    await harness.read('p1', [4.3, 4.3], { channel: 'ph' });
    await harness.read('p1', [2.6], { channel: 'battery' });
    expect(await kindsOf('p1')).toEqual(['battery-low', 'never-calibrated']);
    await owner.call('calibrate', { params: { probe: 'p1' }, body: { kind: 'ph', points: [{ ph: 7.01, mv: -15 }, { ph: 4.01, mv: 147 }], temperatureC: 25 } });
    expect((await owner.call('probeHealths')).probes[0]).toMatchObject({ electrode: { verdict: 'check', slopePercent: expect.closeTo(91.3, 1) as number }, signs: [{ kind: 'battery-low' }, { kind: 'electrode-check' }] });
  });
});

describe('the readings of a probe', () => {
  it('are told wherever it was, of any of its channels', async () => {
    await harness.read('p1', [17, 18, 19]);
    await harness.read('p1', [3.1], { channel: 'battery' });
    const readings = await owner.call('probeReadings', { params: { probe: 'p1' }, query: { channel: 'temperature' } });
    expect(readings.points.map(({ mean }) => mean)).toEqual([17, 18, 19]);
    expect(await owner.call('probeReadings', { params: { probe: 'p1' }, query: { channel: 'battery', from: harnessStart - hourMs } })).toMatchObject({ unit: 'V', points: [{ mean: 3.1 }] });
    await owner.refused('probeReadings', 'not-found', { params: { probe: 'p9' }, query: { channel: 'temperature' } });
    await owner.refused('probeReadings', 'bad-query', { params: { probe: 'p1' }, query: { channel: 'warmth' } });
    await owner.refused('probeReadings', 'bad-query', { params: { probe: 'p1' }, query: { channel: 'temperature', from: harnessStart, to: harnessStart - 1 } });
  });
});
