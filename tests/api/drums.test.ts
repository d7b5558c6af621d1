import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { hourMs, minuteMs, secondMs } from '#contract';
import { toRfc3339 } from '#domain/units/time.ts';
import { harnessStart, openApiHarness, openShed, type ApiClient, type ApiHarness } from '../helpers/api-harness.ts';

let harness: ApiHarness;
let owner: ApiClient;
beforeEach(async () => {
  harness = await openApiHarness();
  owner = await harness.as('owner');
});
afterEach(() => harness.close());

const barrel = { id: 'barrel-2', name: 'Barrel 2', volumeL: 60 };
const addBarrel = () => owner.call('addDrum', { body: barrel });
const watch = (drum: string | null, options: { readonly channel?: string; readonly from?: string } = {}) => owner.call('place', { params: { probe: 'p1' }, body: { channel: 'temperature', drum, ...options } });
const now = async () => (await owner.call('drum', { params: { drum: 'barrel-2' } })).now;

describe('a drum', () => {
  it('is added by its id, name and volume, and answered whole', async () => {
    const drum = await addBarrel();
    expect(drum).toMatchObject({ ...barrel, insulated: false, batch: null, alerts: [], nextTask: null, flag: { state: 'empty', word: 'empty' } });
    expect(drum.now).toEqual({ temperature: { absent: 'no-probe' }, ph: { absent: 'no-probe' }, salinity: { absent: 'no-probe' } });
    expect(await owner.call('drums')).toEqual({ drums: [drum] });
    expect(await owner.call('addDrum', { body: { ...barrel, id: 'crock', insulated: true } })).toMatchObject({ insulated: true });
  });

  it('keeps its id for itself', async () => {
    await addBarrel();
    await owner.refused('addDrum', 'already-exists', { body: { ...barrel, name: 'Another' } });
    expect(await owner.call('drum', { params: { drum: 'barrel-2' } })).toMatchObject({ name: 'Barrel 2' });
  });

  it('may be called like a property every object has', async () => {
    const body = { ...barrel, id: 'constructor' };
    expect(await owner.call('addDrum', { body })).toMatchObject(body);
    await harness.read('constructor', [20]);
    const placed = await owner.call('place', { params: { probe: 'constructor' }, body: { channel: 'temperature', drum: 'constructor' } });
    expect(placed).toMatchObject({ probe: 'constructor', drum: 'constructor' });
    expect((await owner.call('probes')).probes).toMatchObject([{ id: 'constructor', presence: 'unknown' }]);
    expect((await owner.call('wall')).drums).toHaveLength(1);
  });
});

describe('what is known of a drum now', () => {
  it('has value, unit, time, age in seconds and quality', async () => {
    await harness.read('p1', [18, 18.5, 19]);
    await addBarrel();
    await watch('barrel-2');
    harness.clock.advance(90 * secondMs);
    expect((await now()).temperature).toMatchObject({ value: 19, unit: 'Cel', at: toRfc3339(harnessStart), ageS: 90, quality: 'good', source: 'probe' });
  });

  it('is stale, with the value as it was, once the probe has been silent for too long', async () => {
    await harness.read('p1', [18, 18.5, 19]);
    await addBarrel();
    await watch('barrel-2');
    harness.clock.advance(11 * minuteMs);
    expect((await now()).temperature).toMatchObject({ value: 19, ageS: 660, quality: 'stale' });
    await harness.read('p1', [20]);
    expect((await now()).temperature).toMatchObject({ value: 20, ageS: 0, quality: 'good' });
  });

  it('names the fault of a reading that is not good, and never shows the last good one instead', async () => {
    await harness.read('p1', [18, 19]);
    await addBarrel();
    await watch('barrel-2');
    harness.clock.advance(minuteMs);
    await harness.read('p1', [-127], { quality: 'disconnected' });
    expect((await now()).temperature).toMatchObject({ value: -127, quality: 'disconnected', trendPerHour: null });
  });

  it('tells a probe that has said nothing yet from no probe at all', async () => {
    await harness.read('p1', [18]);
    await addBarrel();
    await watch('barrel-2', { channel: 'ph' });
    expect(await now()).toEqual({ temperature: { absent: 'no-probe' }, ph: { absent: 'no-reading' }, salinity: { absent: 'no-probe' } });
  });

  it('shows other quantities once a probe watches them', async () => {
    await harness.read('p1', [0.31], { channel: 'level' });
    await addBarrel();
    await watch('barrel-2', { channel: 'level' });
    expect((await now()).level).toMatchObject({ value: 0.31, unit: 'm' });
  });

  it('takes a value measured by hand where it is the newest, and says that a person measured it', async () => {
    const lot = await openShed(harness);
    const at = toRfc3339(harnessStart - hourMs);
    await owner.call('addEntry', { params: { lot }, body: { kind: 'measured', at, quantity: 'ph', value: 4.2 } });
    const { now: values } = await owner.call('drum', { params: { drum: 'barrel-1' } });
    expect(values.ph).toMatchObject({ value: 4.2, unit: 'pH', at, ageS: 3_600, quality: 'good', source: 'person' });
    expect(values.temperature).toMatchObject({ source: 'probe' });
  });

  it('does not take for its own what a probe said in another drum', async () => {
    await harness.read('p1', [30]);
    await addBarrel();
    await owner.call('addDrum', { body: { ...barrel, id: 'crock' } });
    await watch('crock', { from: toRfc3339(harnessStart - hourMs) });
    harness.clock.advance(minuteMs);
    await watch('barrel-2');
    expect((await now()).temperature).toEqual({ absent: 'no-reading' });
  });
});

describe('readings of a drum', () => {
  const hour = Array.from({ length: 61 }, (_, minute) => 18 + minute / 60);
  const from = harnessStart - hourMs;
  const readings = (query: Record<string, string | number> = {}) => owner.call('readings', { params: { drum: 'barrel-2' }, query: { channel: 'temperature', ...query } });

  beforeEach(async () => {
    await harness.read('p1', hour);
    await addBarrel();
  });

  it('are claimed by a placement from the past, readings stored before it included', async () => {
    expect((await readings({ from })).points).toEqual([]);
    await watch('barrel-2', { from: toRfc3339(from) });
    const { channel, unit, level, points, gaps } = await readings({ from });
    expect({ channel, unit, level, gaps }).toEqual({ channel: 'temperature', unit: 'Cel', level: 'raw', gaps: [] });
    expect(points).toHaveLength(61);
    expect(points[0]).toEqual({ t: from, mean: 18, min: 18, max: 18, count: 1 });
    expect(points.at(-1)).toEqual({ t: harnessStart, mean: 19, min: 19, max: 19, count: 1 });
  });

  it('are those of the time the probe watched the drum, no others', async () => {
    await watch('barrel-2', { from: toRfc3339(from + 30 * minuteMs) });
    expect((await readings({ from })).points).toHaveLength(31);
    await watch(null, { from: toRfc3339(from + 40 * minuteMs) });
    expect((await readings({ from })).points.map(({ t }) => t)).toEqual(Array.from({ length: 10 }, (_, minute) => from + (30 + minute) * minuteMs));
  });

  it('take times as RFC 3339, in any offset, and as epoch milliseconds', async () => {
    await watch('barrel-2', { from: toRfc3339(from) });
    const span = { from: from + 10 * minuteMs, to: from + 20 * minuteMs };
    const expected = await readings(span);
    expect(expected.points).toHaveLength(10);
    expect(await readings({ from: toRfc3339(span.from), to: toRfc3339(span.to) })).toEqual(expected);
    const inAthens = (at: number): string => toRfc3339(at + 3 * hourMs).replace('Z', '+03:00');
    expect(await readings({ from: inAthens(span.from), to: inAthens(span.to) })).toEqual(expected);
  });

  it('come in at most as many points as asked for, with the same mean, least and greatest', async () => {
    await watch('barrel-2', { from: toRfc3339(from) });
    const { points } = await readings({ from, points: 7 });
    expect(points.length).toBeLessThanOrEqual(7);
    const count = points.reduce((sum, point) => sum + point.count, 0);
    expect(count).toBe(61);
    expect(points.reduce((sum, point) => sum + point.mean * point.count, 0) / count).toBeCloseTo(18.5, 9);
    expect([Math.min(...points.map(({ min }) => min)), Math.max(...points.map(({ max }) => max))]).toEqual([18, 19]);
  });

  it('say where there are none: nothing is drawn across a gap, and the future is none', async () => {
    await watch('barrel-2', { from: toRfc3339(from) });
    harness.clock.advance(3 * hourMs);
    await harness.read('p1', hour);
    const { points, gaps } = await readings({ from, to: toRfc3339(harness.clock.now() + 24 * hourMs) });
    expect(points).toHaveLength(122);
    expect(gaps).toEqual([{ from: harnessStart, to: harness.clock.now() - hourMs }]);
  });

  it('are asked from the start of the cure where nothing else is said', async () => {
    await watch('barrel-2', { from: toRfc3339(from) });
    const startedAt = toRfc3339(from + 50 * minuteMs);
    await owner.call('openBatch', { body: { drum: 'barrel-2', pickedAt: toRfc3339(from), startedAt, cut: 'whole', style: 'kept-brine', maturity: 'black', fruitKg: 30, brineL: 27, saltGPerL: 100 } });
    expect((await readings()).points[0]?.t).toBe(Date.parse(startedAt));
  });
});
