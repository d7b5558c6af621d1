import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { dayMs, hourMs, type RouteBody } from '#contract';
import { toRfc3339 } from '#domain/units/time.ts';
import { harnessStart, openApiHarness, openShed, type ApiClient, type ApiHarness } from '../helpers/api-harness.ts';

let harness: ApiHarness;
let owner: ApiClient;
let lot: string;
beforeEach(async () => {
  harness = await openApiHarness();
  owner = await harness.as('owner');
  lot = await openShed(harness);
  for (const id of ['barrel-2', 'barrel-3']) await owner.call('addDrum', { body: { id, name: id, volumeL: 60 } });
});
afterEach(() => harness.close());

const time = (before = 0): string => toRfc3339(harnessStart - before);
const add = (body: RouteBody<'addEntry'>, of = lot) => owner.call('addEntry', { params: { lot: of }, body });
const refused = (body: RouteBody<'addEntry'>, code: Parameters<ApiClient['refused']>[1], of = lot) => owner.refused('addEntry', code, { params: { lot: of }, body });
const batch = (of = lot) => owner.call('batch', { params: { lot: of } });
const inDrum = async () => Object.fromEntries((await owner.call('drums')).drums.map((drum) => [drum.id, drum.batch?.jarredAt === null ? drum.batch.lot : null]));
const moveTo = (drum: string, before = dayMs) => add({ kind: 'moved', at: time(before), drum });
const splitOff = async (over: Partial<Extract<RouteBody<'addEntry'>, { kind: 'split' }>> = {}) => {
  const written = await add({ kind: 'split', at: time(dayMs), drum: 'barrel-2', fruitKg: 10, brineL: 9, ...over });
  return { sequence: written.sequence, part: written.body.into as string };
};

describe('a batch that was moved', () => {
  it('has its temperatures from both drums, each while it lay there', async () => {
    // Both probes speak all the time: the first drum is at 15, the second at 28 before the fruit comes and at 20 after.
    const hours = 9 * 24;
    await harness.read('p1', Array.from({ length: hours }, () => 15), { everyMs: hourMs });
    await harness.read('p2', Array.from({ length: hours }, (_, hour) => (hour < 4 * 24 - 1 ? 28 : 20)), { everyMs: hourMs });
    await owner.call('place', { params: { probe: 'p2' }, body: { channel: 'temperature', drum: 'barrel-2', from: time(9 * dayMs) } });
    await moveTo('barrel-2', 5 * dayMs);
    const { lot: other } = await owner.call('openBatch', { body: { drum: 'barrel-1', pickedAt: time(4 * dayMs), startedAt: time(4 * dayMs), cut: 'slit', style: 'changed-brine', maturity: 'green', fruitKg: 30, brineL: 27, saltGPerL: 100 } });
    const { first, second } = await owner.call('comparePair', { params: { lot, other } });
    const told = (of: typeof first, from: number, to: number) => [...new Set(of.temperature.filter(({ day }) => day >= from && day < to).flatMap(({ min, max }) => [min, max]))];
    expect([told(first, 1.5, 4.5), told(first, 5.5, 10), told(second, 0, 3.8)]).toEqual([[15], [20], [15]]);
    expect(Math.max(...first.temperature.filter(({ day }) => day > 1).map(({ max }) => max))).toBe(20);
    // What the new drum read before the fruit came, and the old one after it went, tells nothing of this fruit.
    expect((await owner.call('wall')).drums.find(({ id }) => id === 'barrel-2')?.ribbon?.temperature.map(({ mean }) => mean).every((mean) => mean <= 20)).toBe(true);
  });

  it('leaves its drum empty and stands in the other', async () => {
    expect(await moveTo('barrel-2')).toMatchObject({ kind: 'moved', body: { drum: 'barrel-2' } });
    expect(await inDrum()).toEqual({ 'barrel-1': null, 'barrel-2': lot, 'barrel-3': null });
    expect(await batch()).toMatchObject({ drum: 'barrel-2', trace: { stays: [{ drum: 'barrel-1', to: time(dayMs) }, { drum: 'barrel-2', from: time(dayMs), to: null }] } });
    // The empty one takes another batch.
    await owner.call('openBatch', { body: { drum: 'barrel-1', pickedAt: time(), startedAt: time(), cut: 'slit', style: 'changed-brine', maturity: 'green', fruitKg: 30, brineL: 27, saltGPerL: 100 } });
  });

  it('does not go where another is, to where it is, to no drum, or before it began', async () => {
    const { lot: other } = await owner.call('openBatch', { body: { drum: 'barrel-2', pickedAt: time(), startedAt: time(hourMs), cut: 'slit', style: 'changed-brine', maturity: 'green', fruitKg: 30, brineL: 27, saltGPerL: 100 } });
    expect((await refused({ kind: 'moved', at: time(), drum: 'barrel-2' }, 'drum-occupied')).detail).toContain(other);
    await refused({ kind: 'moved', at: time(), drum: 'barrel-1' }, 'does-not-fit');
    await refused({ kind: 'moved', at: time(), drum: 'barrel-9' }, 'not-found');
    await refused({ kind: 'moved', at: time(10 * dayMs), drum: 'barrel-3' }, 'does-not-fit');
    expect((await batch()).entries).toEqual([]);
  });

  it('goes back when the move is taken back, unless its drum holds another by now', async () => {
    const { sequence } = await moveTo('barrel-2');
    await add({ kind: 'corrected', entry: sequence, reason: 'wrong drum', replacement: { kind: 'moved', at: time(dayMs), drum: 'barrel-3' } });
    expect(await inDrum()).toEqual({ 'barrel-1': null, 'barrel-2': null, 'barrel-3': lot });
    const last = (await batch()).entries.findLast(({ standing }) => standing)?.sequence ?? 0;
    const { lot: other } = await owner.call('openBatch', { body: { drum: 'barrel-1', pickedAt: time(), startedAt: time(), cut: 'slit', style: 'changed-brine', maturity: 'green', fruitKg: 30, brineL: 27, saltGPerL: 100 } });
    expect((await refused({ kind: 'corrected', entry: last, reason: 'never moved', replacement: null }, 'drum-occupied')).detail).toContain(other);
    await refused({ kind: 'corrected', entry: last, reason: 'x', replacement: { kind: 'skimmed', at: time() } }, 'does-not-fit');
  });
});

describe('a batch of which a part was split off', () => {
  it('shares its story with the part; fruit and brine are divided and the strength is the same', async () => {
    await add({ kind: 'brine-changed', at: time(3 * dayMs), brineL: 27, saltGPerL: 80 });
    const { part } = await splitOff();
    expect(part).not.toBe(lot);
    expect(await batch()).toMatchObject({ fruitKg: 20, drum: 'barrel-1', trace: { parts: [{ lot: part, fruitKg: 10 }], brineNowL: 18 } });
    expect(await batch(part)).toMatchObject({ fruitKg: 10, drum: 'barrel-2', cut: 'slit', startedAt: (await batch()).startedAt, trace: { from: { lot }, brineNowL: 9, inDrum: true } });
    expect((await batch(part)).entries.map(({ kind }) => kind)).toEqual(['brine-changed', 'split']);
    expect(await inDrum()).toEqual({ 'barrel-1': lot, 'barrel-2': part, 'barrel-3': null });
    // From here on each has its own.
    await add({ kind: 'tasted', at: time(hourMs), bitterness: 4 }, part);
    expect((await batch()).entries.map(({ kind }) => kind)).toEqual(['brine-changed', 'split']);
    // What is mended in the shared part is mended in both.
    const shared = (await batch(part)).entries[0]?.sequence ?? 0;
    expect((await refused({ kind: 'corrected', entry: shared, reason: 'x', replacement: null }, 'wrong-state', part)).detail).toContain(lot);
    await add({ kind: 'corrected', entry: shared, reason: 'weighed again', replacement: { kind: 'brine-changed', at: time(3 * dayMs), brineL: 27, saltGPerL: 60 } });
    expect((await batch(part)).entries.filter(({ standing, kind }) => standing && kind === 'brine-changed').map(({ body }) => body.saltGPerL)).toEqual([60]);
    await refused({ kind: 'skimmed', at: time(2 * dayMs) }, 'does-not-fit', part);
  });

  it('on its way to jars lies in no drum, and is jarred as a lot of its own', async () => {
    const { part } = await splitOff({ drum: null, brineL: 0 });
    expect(await batch(part)).toMatchObject({ drum: 'barrel-1', trace: { inDrum: false } });
    expect(await inDrum()).toEqual({ 'barrel-1': lot, 'barrel-2': null, 'barrel-3': null });
    await refused({ kind: 'brine-changed', at: time(), brineL: 9, saltGPerL: 80 }, 'wrong-state', part);
    await add({ kind: 'measured', at: time(hourMs), quantity: 'ph', value: 3.9 }, part);
    await add({ kind: 'jarred', at: time(), jars: 20, jarMl: 500, brine: 'own', ingredients: [] }, part);
    expect(await batch(part)).toMatchObject({ stage: 'rest', jarsLeft: 20 });
    expect(await batch()).toMatchObject({ stage: 'leach', jarredAt: null });
    expect((await owner.call('drum', { params: { drum: 'barrel-1' } })).batch?.lot).toBe(lot);
    expect((await owner.call('tasks')).tasks.filter((task) => task.lot === part).map(({ kind }) => kind)).not.toContain('change-brine');
  });

  it('keeps some fruit and some brine', async () => {
    for (const [wrong, path] of [[{ fruitKg: 30 }, 'fruitKg'], [{ brineL: 27 }, 'brineL'], [{ brineL: 0 }, 'brineL'], [{ drum: 'barrel-1' }, 'drum']] as const) {
      expect((await refused({ kind: 'split', at: time(), drum: 'barrel-2', fruitKg: 10, brineL: 9, ...wrong }, 'does-not-fit')).errors?.map((error) => error.path)).toEqual([path]);
    }
    expect((await owner.call('batches')).batches).toHaveLength(1);
  });

  it('is one lot again when the split is taken back, while nothing was written for the part; its code is not given again', async () => {
    const { sequence, part } = await splitOff();
    const { sequence: tasted } = await add({ kind: 'tasted', at: time(), bitterness: 4 }, part);
    expect((await refused({ kind: 'corrected', entry: sequence, reason: 'x', replacement: null }, 'wrong-state')).detail).toContain(part);
    await add({ kind: 'corrected', entry: tasted, reason: 'x', replacement: null }, part);
    await add({ kind: 'corrected', entry: sequence, reason: 'not split', replacement: null });
    expect(await batch()).toMatchObject({ fruitKg: 30, brineL: 27 });
    await owner.refused('batch', 'not-found', { params: { lot: part } });
    expect(await inDrum()).toEqual({ 'barrel-1': lot, 'barrel-2': null, 'barrel-3': null });
    expect((await splitOff()).part).not.toBe(part);
  });

  it('is split otherwise by a correction, and is the same after a restart', async () => {
    const { sequence, part } = await splitOff();
    await add({ kind: 'corrected', entry: sequence, reason: 'weighed', replacement: { kind: 'split', at: time(dayMs), drum: 'barrel-3', fruitKg: 12, brineL: 11 } });
    const told = async () => ({ whole: await batch(), part: await batch(part), drums: await inDrum() });
    const before = await told();
    expect(before).toMatchObject({ whole: { fruitKg: 18 }, part: { fruitKg: 12, drum: 'barrel-3' }, drums: { 'barrel-2': null, 'barrel-3': part } });
    await harness.restart();
    expect(await told()).toEqual(before);
  });
});
