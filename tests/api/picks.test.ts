import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { dayMs, hourMs, type RouteBody } from '#contract';
import { toRfc3339 } from '#domain/units/time.ts';
import { harnessStart, openApiHarness, openShed, type ApiClient, type ApiHarness } from '../helpers/api-harness.ts';

let harness: ApiHarness;
let owner: ApiClient;
beforeEach(async () => {
  harness = await openApiHarness();
  owner = await harness.as('owner');
});
afterEach(() => harness.close());

const time = (before = 0): string => toRfc3339(harnessStart - before);
const pickFruit = (body: RouteBody<'addPick'> = {}) => owner.call('addPick', { body });
const startIn = (drum: string, body: Partial<RouteBody<'openBatch'>>) =>
  owner.call('openBatch', { body: { drum, startedAt: time(2 * hourMs), cut: 'slit', style: 'changed-brine', maturity: 'green', fruitKg: 30, brineL: 27, saltGPerL: 100, ...body } });
const addDrum = (id: string) => owner.call('addDrum', { body: { id, name: id, volumeL: 60 } });

describe('a pick', () => {
  it('is begun in one tap, told more of, sorted, and shows where the fruit is', async () => {
    const helper = await harness.as('helper');
    const { pick } = await helper.call('addPick', { body: {} });
    expect(pick).toMatch(/^P26-[A-HJ-NP-Z][0-9A-Z]$/);
    await owner.call('amendPick', { params: { pick }, body: { massKg: 42, trees: [7, 'the old one'], variety: 'Leccino', counts: [5, 20, 35, 20, 12, 5, 2, 1] } });
    harness.clock.advance(hourMs);
    await owner.call('sortPick', { params: { pick: pick.toLowerCase().replace('-', '') }, body: { culls: [{ cause: 'olive fly', kg: 3 }] } });
    expect(await owner.call('pick', { params: { pick } })).toMatchObject({
      at: time(), by: 'helper', trees: ['7', 'the old one'], pickedKg: 42, culledKg: 3, inBatchesKg: 0, unaccountedKg: 39, overKg: 0, spread: { low: 1, high: 4, wide: false },
      // 0·5 + 1·20 + 2·35 + 3·20 + 4·12 + 5·5 + 6·2 + 7·1 over 100 fruits.
      maturity: { stage: 'turning', index: 2.42 }, clock: { hours: 1, withinHours: 48, state: 'waiting' }, warnings: [],
    });
    expect((await owner.call('picks')).picks.map((each) => each.pick)).toEqual([pick]);
  });

  it('goes over two drums, and two go into one: every lot and every pick tells', async () => {
    for (const drum of ['one', 'two']) await addDrum(drum);
    const early = await pickFruit({ at: time(dayMs), massKg: 50 });
    const late = await pickFruit({ at: time(5 * hourMs), massKg: 12 });
    const first = await startIn('one', { picks: [{ pick: early.pick, kg: 30 }] });
    const second = await startIn('two', { picks: [{ pick: late.pick, kg: 12 }, { pick: early.pick, kg: 18 }] });
    // The day of picking follows from the earliest.
    expect(second.pickedAt).toBe(time(dayMs));
    expect(second.trace.picks).toEqual([{ pick: late.pick, kg: 12 }, { pick: early.pick, kg: 18 }]);
    expect((await owner.call('pick', { params: { pick: early.pick } })).batches).toEqual([{ lot: first.lot, drum: 'one', kg: 30, stage: 'leach' }, { lot: second.lot, drum: 'two', kg: 18, stage: 'leach' }]);
    expect(await owner.call('pick', { params: { pick: early.pick } })).toMatchObject({ unaccountedKg: 2, clock: { state: 'waiting' } });
    expect(await owner.call('pick', { params: { pick: late.pick } })).toMatchObject({ unaccountedKg: 0, clock: { hours: 3, state: 'in-time' } });
  });

  it('may be used for more than its mass, and says by how much', async () => {
    await addDrum('one');
    const { pick } = await pickFruit({ at: time(dayMs), massKg: 28 });
    const batch = await startIn('one', { picks: [{ pick, kg: 30.5 }] });
    expect(batch.trace.warnings.join()).toContain('2.5 kg more');
    expect(await owner.call('pick', { params: { pick } })).toMatchObject({ overKg: 2.5, unaccountedKg: 0 });
  });

  it('of very different ripeness says that one drum will hold two cures (common practice, no source)', async () => {
    await addDrum('one');
    const green = await pickFruit({ at: time(dayMs), massKg: 15, counts: [50, 50, 0, 0, 0, 0, 0, 0] });
    const black = await pickFruit({ at: time(dayMs), massKg: 15, counts: [0, 0, 0, 0, 0, 40, 40, 20] });
    expect([green.warnings, black.clock.withinHours, black.clock.state]).toEqual([[], 24, 'waiting']);
    const batch = await startIn('one', { picks: [{ pick: green.pick, kg: 15 }, { pick: black.pick, kg: 15 }] });
    expect(batch.trace.warnings.join()).toContain('two cures');
  });

  it('sent again under its key is the same pick; a key of another act is refused', async () => {
    const headers = { 'Idempotency-Key': '0123456789abcdef0123' };
    const send = (path: string, body: object) => owner.fetch(path, { method: 'POST', headers: { 'content-type': 'application/json', ...headers }, body: JSON.stringify(body) });
    const first = await send('/api/picks', {});
    expect((await send('/api/picks', {})).body).toEqual(first.body);
    expect((await owner.call('picks')).picks).toHaveLength(1);
    expect((await send(`/api/picks/${(first.body as { pick: string }).pick}/sorted`, { culls: [] })).body).toMatchObject({ status: 409, code: 'key-used' });
  });

  it('is taken back only while none of it is in a drum', async () => {
    await addDrum('one');
    const { pick } = await pickFruit({ at: time(dayMs), massKg: 30 });
    const { lot } = await startIn('one', { picks: [{ pick, kg: 30 }] });
    expect((await owner.refused('amendPick', 'wrong-state', { params: { pick }, body: { takenBack: 'a slip' } })).detail).toContain(lot);
    const other = await pickFruit({});
    expect(await owner.call('amendPick', { params: { pick: other.pick }, body: { takenBack: 'a slip' } })).toMatchObject({ takenBack: 'a slip', warnings: [] });
    await owner.refused('sortPick', 'wrong-state', { params: { pick: other.pick }, body: { culls: [] } });
    // Its code is not given again.
    expect((await pickFruit({})).pick).not.toBe(other.pick);
  });

  it.each([
    [{ buckets: 3 }, 'bucketKg'],
    [{ counts: [1, 2, 3] }, 'counts'],
    [{ counts: [0, 0, 0, 0, 0, 0, 0, 0] }, 'counts'],
    [{ at: time(hourMs), until: time(2 * hourMs) }, 'until'],
    [{ at: '2026-12-24T08:00:00Z' }, 'at'],
    [{ damage: { hail: 0.7, 'olive fly': 0.6 } }, 'damage'],
  ])('is refused with %j', async (body, path) => {
    expect((await owner.refused('addPick', 'does-not-fit', { body })).errors?.map((error) => error.path)).toEqual([path]);
    expect((await owner.call('picks')).picks).toEqual([]);
  });
});

describe('a batch without picks', () => {
  it('is what it always was, and needs its day of picking', async () => {
    await addDrum('one');
    expect((await owner.refused('openBatch', 'does-not-fit', { body: { drum: 'one', startedAt: time(), cut: 'slit', style: 'changed-brine', maturity: 'green', fruitKg: 30, brineL: 27, saltGPerL: 100 } })).errors?.map(({ path }) => path)).toEqual(['pickedAt']);
    expect(await startIn('one', { pickedAt: time(dayMs), soak: { startedAt: time(dayMs), changes: 2 } })).toMatchObject({ trace: { picks: [], soak: { startedAt: time(dayMs), changes: 2 }, from: null, inDrum: true } });
  });
});

describe('a code that nobody gave', () => {
  it('is told so, with what may have been meant; mistyped is told apart from unknown', async () => {
    const lot = await openShed(harness);
    const wrong = `${lot.slice(0, -1)}${lot.endsWith('8') ? '9' : '8'}`;
    const { detail, didYouMean } = await owner.refused('batch', 'not-found', { params: { lot: wrong } });
    expect(detail).toBe(`There is no lot ${wrong}. Its last character does not fit the rest, so it was mistyped. Did you mean ${lot}?`);
    expect(didYouMean).toEqual([lot]);
    expect((await owner.refused('addEntry', 'not-found', { params: { lot: wrong }, body: { kind: 'skimmed', at: time() } })).didYouMean).toEqual([lot]);
    expect((await owner.refused('comparePair', 'not-found', { params: { lot: wrong, other: lot } })).didYouMean).toEqual([lot]);
    const far = await owner.refused('batch', 'not-found', { params: { lot: 'ST26-A7' } });
    expect([far.detail, far.didYouMean]).toEqual(['There is no lot ST26-A7.', undefined]);
    const { pick } = await pickFruit();
    const swapped = `P62${pick.slice(3)}`;
    expect((await owner.refused('pick', 'not-found', { params: { pick: swapped } })).detail).toContain(`Did you mean ${pick}?`);
    await addDrum('one');
    expect((await owner.refused('openBatch', 'not-found', { body: { drum: 'one', startedAt: time(), cut: 'slit', style: 'changed-brine', maturity: 'green', fruitKg: 30, brineL: 27, saltGPerL: 100, picks: [{ pick: swapped, kg: 3 }] } })).didYouMean).toEqual([pick]);
    // The dash and capitals are for the eye.
    expect((await owner.call('batch', { params: { lot: lot.toLowerCase().replace('-', '') } })).lot).toBe(lot);
  });
});
