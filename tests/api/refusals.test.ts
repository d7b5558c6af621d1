import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { dayMs, minuteMs, type RouteName } from '#contract';
import { toRfc3339 } from '#domain/units/time.ts';
import { harnessStart, openApiHarness, openShed, tenDaysMs, type ApiClient, type ApiHarness } from '../helpers/api-harness.ts';

/** Input that does not fit or makes no sense: refused with the field that is wrong, and nothing is written. One shed serves all. */
let harness: ApiHarness;
let owner: ApiClient;
let lot: string;
let written: number;
beforeAll(async () => {
  harness = await openApiHarness();
  owner = await harness.as('owner');
  lot = await openShed(harness);
  await owner.call('addDrum', { body: { id: 'crock', name: 'Crock', volumeL: 20 } });
  written = harness.service.model.book.lastSequence();
});
afterAll(async () => {
  expect(harness.service.model.book.lastSequence()).toBe(written);
  await harness.close();
});

const later = toRfc3339(harnessStart + 11 * minuteMs);
const at = toRfc3339(harnessStart - minuteMs);

const expectRefusal = async (name: RouteName, input: { readonly params?: Record<string, string>; readonly body?: unknown; readonly query?: Record<string, string | number> }, path: string, words = '') => {
  const { errors, detail } = await owner.refused(name, input.query === undefined ? 'does-not-fit' : 'bad-query', { params: { drum: 'barrel-1', probe: 'p1', lot, id: 'leach-temperature-high' }, ...input });
  expect(errors?.map((error) => error.path)).toEqual([path]);
  expect(errors?.[0]?.message).toMatch(/\w/);
  expect(errors?.[0]?.message).toContain(words);
  expect(detail).toContain(errors?.[0]?.message);
};

const drum = { id: 'barrel-2', name: 'Barrel 2', volumeL: 60 };

describe('a drum', () => {
  // A slug given by people: lower-case letters, digits and dashes.
  it.each(['Barrel', 'barrel 2', '-barrel', 'barrel-', '', 'a'.repeat(41), '__proto__', 'b/2', '../b', 'fässchen', 'b\n', null, 7])('with the id %j', (id) => expectRefusal('addDrum', { body: { ...drum, id } }, 'id'));

  it.each([
    [{ volumeL: 0 }, 'volumeL'],
    [{ volumeL: -60 }, 'volumeL'],
    [{ volumeL: '60' }, 'volumeL'],
    [{ volumeL: 1e9 }, 'volumeL'],
    [{ name: '' }, 'name'],
    [{ name: '   ' }, 'name'],
    [{ name: 'half a \ud83d' }, 'name'],
    [{ insulated: 'yes' }, 'insulated'],
  ])('with %j', (wrong, path) => expectRefusal('addDrum', { body: { ...drum, ...wrong } }, path));

  it('with a field nobody knows, so that a typing mistake is not taken for silence', () => expectRefusal('addDrum', { body: { ...drum, volumel: 60 } }, 'volumel', 'not known'));
});

describe('a query for readings', () => {
  it.each([
    [{ channel: 'weight' }, 'channel'],
    [{ channel: 'constructor' }, 'channel'],
    [{ from: 'yesterday' }, 'from'],
    [{ from: '2026-02-30T00:00:00Z' }, 'from'],
    [{ to: '-5' }, 'to'],
    [{ to: 'NaN' }, 'to'],
    [{ points: 0 }, 'points'],
    [{ points: 1e9 }, 'points'],
    [{ points: 'many' }, 'points'],
    [{ points: 2.5 }, 'points'],
    [{ from: harnessStart, to: harnessStart - 1 }, 'from'],
  ])('%j', (query, path) => expectRefusal('readings', { query }, path));
});

describe('other queries', () => {
  it.each([
    ['journal', { after: -1 }, 'after'],
    ['journal', { after: 1e300 }, 'after'],
    ['journal', { limit: 0 }, 'limit'],
    ['journal', { limit: 1_001 }, 'limit'],
    ['journal', { limit: 'all' }, 'limit'],
    ['journal', { before: 3 }, 'before'],
    ['alerts', { state: 'loud' }, 'state'],
    ['alerts', { limit: 1_001 }, 'limit'],
  ] as const)('%s with %j', (name, query, path) => expectRefusal(name, { query }, path));
});

describe('a placement or a calibration', () => {
  it.each([
    ['place', { channel: 'temperature', drum: 'barrel-1', from: later }, 'from'],
    ['place', { channel: 'temperature', drum: 'barrel-1', from: '0001-01-01T00:00:00Z' }, 'from'],
    ['place', { channel: 'temperature', drum: 'barrel-1', from: '2026-10-03' }, 'from'],
    ['place', { channel: 'weight', drum: 'barrel-1' }, 'channel'],
    ['place', { channel: 'temperature', drum: 'Barrel 1' }, 'drum'],
    ['place', { channel: 'temperature' }, 'drum'],
    ['calibrate', { kind: 'ph', points: [{ ph: 7, mv: 0 }], temperatureC: 20 }, 'points'],
    ['calibrate', { kind: 'ph', points: [{ ph: 7, mv: 0 }, { ph: 7, mv: 5 }], temperatureC: 20 }, 'points'],
    ['calibrate', { kind: 'ice-point', readingC: 0.3, referenceC: 0, at: later }, 'at'],
    ['calibrate', { kind: 'boiling-point', readingC: 99 }, 'kind'],
  ] as const)('%s with %j', (name, body, path) => expectRefusal(name, { body }, path));
});

describe('a batch', () => {
  const batch = { drum: 'crock', pickedAt: '2026-09-20', startedAt: '2026-09-21', cut: 'cracked', style: 'kept-brine', maturity: 'turning', fruitKg: 12, brineL: 11, saltGPerL: 100 };

  it.each([
    [{ startedAt: toRfc3339(harnessStart + 2 * dayMs) }, 'startedAt'],
    [{ pickedAt: '2026-09-23' }, 'pickedAt'],
    [{ pickedAt: '1999-12-31' }, 'pickedAt'],
    [{ pickedAt: '20 September' }, 'pickedAt'],
    [{ pickedAt: '2026-02-29' }, 'pickedAt'],
    [{ cut: 'stoned' }, 'cut'],
    [{ style: 'dry-salt' }, 'style'],
    [{ maturity: 'ripe' }, 'maturity'],
    [{ fruitKg: 0 }, 'fruitKg'],
    [{ brineL: -1 }, 'brineL'],
    [{ saltGPerL: 400 }, 'saltGPerL'],
    [{ trees: [] }, 'trees'],
    [{ acid: { acid: 'sulphuric', ml: 1, strengthPercent: 5 } }, 'acid.acid'],
    [{ acid: { acid: 'acetic', ml: 1, strengthPercent: 101 } }, 'acid.strengthPercent'],
    [{ acid: { acid: 'acetic', ml: 1, strengthPercent: 5, brand: 'x' } }, 'acid.brand'],
  ])('with %j', (wrong, path) => expectRefusal('openBatch', { body: { ...batch, ...wrong } }, path));

  it('that lacks everything, with every field named at once', async () => {
    const { errors } = await owner.refused('openBatch', 'does-not-fit', { body: {} });
    expect(errors?.map(({ path }) => path)).toEqual(['drum', 'startedAt', 'cut', 'style', 'maturity', 'fruitKg', 'brineL', 'saltGPerL', 'pickedAt']);
  });
});

describe('an act', () => {
  it.each([
    [{ kind: 'skimmed', at: later }, 'at', 'future'],
    [{ kind: 'skimmed', at: toRfc3339(harnessStart - tenDaysMs - 1) }, 'at', 'before the pick'],
    [{ kind: 'skimmed', at: 'today' }, 'at', ''],
    [{ kind: 'skimmed', at: '2026-10-03' }, 'at', ''],
    [{ kind: 'skimmed', at: '9999-12-31T23:59:59-23:59' }, 'at', 'years'],
    [{ kind: 'skimmed' }, 'at', ''],
    [{ kind: 'stirred', at }, 'kind', ''],
    [{ at }, 'kind', ''],
    [{ kind: 'tasted', at, bitterness: 11 }, 'bitterness', ''],
    [{ kind: 'tasted', at, bitterness: -1 }, 'bitterness', ''],
    [{ kind: 'tasted', at, bitterness: '4' }, 'bitterness', ''],
    [{ kind: 'tasted', at, bitterness: null }, 'bitterness', ''],
    [{ kind: 'brine-changed', at, brineL: 0, saltGPerL: 100 }, 'brineL', ''],
    [{ kind: 'brine-changed', at, brineL: 27, saltGPerL: 100, fraction: 1.5 }, 'fraction', ''],
    [{ kind: 'measured', at, quantity: 'ph', value: 15 }, 'value', ''],
    [{ kind: 'measured', at, quantity: 'weight', value: 15 }, 'quantity', ''],
    [{ kind: 'measured', at, quantity: 'ph', value: 4, instrument: 'My Meter' }, 'instrument', ''],
    [{ kind: 'observed', at, sign: '' }, 'sign', ''],
    [{ kind: 'observed', at, sign: 'x'.repeat(81) }, 'sign', ''],
    [{ kind: 'observed', at, sign: 'half \udc00 a character' }, 'sign', 'half a character'],
    [{ kind: 'skimmed', at, note: 'x'.repeat(501) }, 'note', ''],
    [{ kind: 'corrected', entry: 1.5, reason: 'x', replacement: null }, 'entry', ''],
    [{ kind: 'corrected', entry: 1, reason: '', replacement: null }, 'reason', ''],
    [{ kind: 'corrected', entry: 1, reason: 'x' }, 'replacement', ''],
    [{ kind: 'corrected', entry: 1, reason: 'x', replacement: null }, 'entry', 'not an act of lot'],
    [{ kind: 'corrected', entry: 1, reason: 'x', replacement: { kind: 'tasted', at, bitterness: 12 } }, 'replacement.bitterness', ''],
  ] as const)('%j, at %s', (body, path, words) => expectRefusal('addEntry', { body }, path, words));
});

describe('a limit', () => {
  it.each([
    [{}, ''],
    [{ high: 'hot' }, 'high'],
    [{ deadband: -1 }, 'deadband'],
    [{ onDelayS: 0.5 }, 'onDelayS'],
    [{ offDelayS: 1e9 }, 'offDelayS'],
    [{ priority: 'urgent' }, 'priority'],
    [{ source: '' }, 'source'],
    [{ stage: 'soak' }, 'stage'],
    [{ low: 25 }, 'low'],
    [{ low: 30, high: 20 }, 'low'],
  ])('changed with %j, for the site and for a drum', async (body, path) => {
    await expectRefusal('setLimit', { body }, path);
    await expectRefusal('setDrumLimit', { body }, path);
  });
});

describe('what is not there', () => {
  it.each([
    ['drum', { drum: 'nothing' }],
    ['drum', { drum: '__proto__' }],
    ['drum', { drum: 'constructor' }],
    ['readings', { drum: 'nothing' }],
    ['batch', { lot: 'HO99-ZZ' }],
    ['addEntry', { lot: 'HO99-ZZ' }, { kind: 'skimmed', at }],
    ['place', { probe: 'p9' }, { channel: 'temperature', drum: 'barrel-1' }],
    ['place', { probe: 'p1' }, { channel: 'temperature', drum: 'barrel-9' }],
    ['calibrate', { probe: '__proto__' }, { kind: 'ice-point', readingC: 0, referenceC: 0 }],
    ['acknowledge', { id: 'constructor' }],
    ['finishTask', { id: 'toString' }, {}],
    ['skipTask', { id: 'nothing' }, { reason: 'x' }],
    ['setLimit', { id: 'constructor' }, { deadband: 1 }],
    ['setDrumLimit', { drum: 'barrel-9', id: 'leach-temperature-high' }, { deadband: 1 }],
  ] as const)('%s of %j is not found', async (name, params: Record<string, string>, body?: unknown) => {
    expect((await owner.refused(name, 'not-found', { params, body })).detail).toMatch(/^There is no /);
  });
});
