import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { dayMs, hourMs, minuteMs } from '#contract';
import { toRfc3339 } from '#domain/units/time.ts';
import { harnessStart, openApiHarness, openShed, type ApiClient, type ApiHarness } from '../helpers/api-harness.ts';

let harness: ApiHarness;
let owner: ApiClient;
let lot: string;
beforeEach(async () => {
  harness = await openApiHarness();
  owner = await harness.as('owner');
  lot = await openShed(harness);
});
afterEach(() => harness.close());

const at = toRfc3339(harnessStart - hourMs);
const add = (body: Parameters<typeof owner.call<'addEntry'>>[1] extends infer Input ? NonNullable<Input> extends { body?: infer Body } ? Body : never : never) => owner.call('addEntry', { params: { lot }, body });
const story = async () => (await owner.call('batch', { params: { lot } })).entries;

describe('an act', () => {
  it.each([
    { kind: 'brine-changed', at, brineL: 27, saltGPerL: 100, fraction: 0.5 },
    { kind: 'brine-changed', at, brineL: 27, saltGPerL: 0 },
    { kind: 'brine-topped-up', at, brineL: 1.5, saltGPerL: 100 },
    { kind: 'salt-added', at, saltG: 540 },
    { kind: 'acid-added', at, acid: 'acetic', ml: 500, strengthPercent: 5 },
    { kind: 'skimmed', at },
    { kind: 'rinsed', at },
    { kind: 'handled', at, what: 'pressed-under' },
    { kind: 'handled', at, what: 'cooled', bottles: 3 },
    { kind: 'tasted', at, bitterness: 4, note: 'nearly' },
    { kind: 'tasted', at, bitterness: 0 },
    { kind: 'observed', at, sign: 'film', note: 'thin and white' },
    { kind: 'measured', at, quantity: 'ph', value: 4.4, instrument: 'meter-1' },
    { kind: 'measured', at, quantity: 'salinity', value: 82 },
    { kind: 'measured', at, quantity: 'temperature', value: 18.5 },
  ] as const)('is written as it was said: %j', async (entry) => {
    const helper = await harness.as('helper');
    const written = await helper.call('addEntry', { params: { lot }, body: entry });
    const { kind, at: _at, ...body } = entry;
    expect(written).toEqual({ sequence: expect.any(Number) as number, kind, at, writtenAt: toRfc3339(harnessStart), by: 'helper', body, standing: true, corrects: null, correctedBy: null, ...(kind === 'measured' && { notUsable: expect.any(String) as string }) });
    expect(await story()).toEqual([written]);
    expect((await owner.call('journal')).entries.at(-1)).toMatchObject({ sequence: written.sequence, kind, who: 'user:helper', time: toRfc3339(harnessStart), body: { ...body, lot, at } });
  });

  it('stands in the story by the time it happened, not by the time it was written', async () => {
    await add({ kind: 'tasted', at, bitterness: 5 });
    await add({ kind: 'tasted', at: toRfc3339(harnessStart - dayMs), bitterness: 7 });
    expect((await story()).map(({ body }) => body.bitterness)).toEqual([7, 5]);
  });

  it('keeps its time to the moment, whatever the offset it was said in', async () => {
    expect(await add({ kind: 'skimmed', at: '2026-10-03T13:00:00+02:00' })).toMatchObject({ at: '2026-10-03T11:00:00.000Z' });
  });

  it('takes a typed note trimmed, in any script', async () => {
    expect(await add({ kind: 'observed', at, sign: '  αφρός 🫒 ', note: 'line\none' })).toMatchObject({ body: { sign: 'αφρός 🫒', note: 'line\none' } });
  });

  describe('after the fruit has left the drum', () => {
    beforeEach(() => harness.collectorWrites({ kind: 'jarred', body: { lot, at: toRfc3339(harnessStart - 30 * minuteMs), jars: 60, jarMl: 500, brine: 'fresh', ingredients: [] } }));

    it('is refused if it can only have happened in the drum', async () => {
      await owner.refused('addEntry', 'wrong-state', { params: { lot }, body: { kind: 'salt-added', at: toRfc3339(harnessStart), saltG: 100 } });
      expect(await story()).toHaveLength(1);
    });

    it('is taken if it happened before and was only forgotten', async () => {
      expect(await add({ kind: 'salt-added', at, saltG: 100 })).toMatchObject({ standing: true });
    });

    it('is taken if it is something seen or measured in the jars', async () => {
      expect(await add({ kind: 'observed', at: toRfc3339(harnessStart), sign: 'cloudy' })).toMatchObject({ standing: true });
      expect(await add({ kind: 'measured', at: toRfc3339(harnessStart), quantity: 'ph', value: 4 })).toMatchObject({ standing: true });
    });

    it('takes the jarring back, and the fruit is in its drum again', async () => {
      const [jarring] = await story();
      await add({ kind: 'corrected', entry: jarring?.sequence ?? 0, reason: 'wrong drum', replacement: null });
      expect(await owner.call('batch', { params: { lot } })).toMatchObject({ stage: 'leach', jarredAt: null });
    });
  });
});

describe('a correction', () => {
  it('leaves the mistaken act in the story, no longer standing, and what replaces it beside it', async () => {
    const wrong = await add({ kind: 'tasted', at, bitterness: 1 });
    const right = await add({ kind: 'corrected', entry: wrong.sequence, reason: 'meant seven', replacement: { kind: 'tasted', at, bitterness: 7 } });
    expect(right).toMatchObject({ kind: 'tasted', body: { bitterness: 7 }, standing: true, corrects: wrong.sequence, correctedBy: null, by: 'owner' });
    expect(await story()).toEqual([{ ...wrong, standing: false, correctedBy: right.sequence }, right]);
    // The score of 1 had called it sweet.
    expect((await owner.call('batch', { params: { lot } })).stage).toBe('leach');
    expect((await owner.call('journal')).entries.at(-1)).toMatchObject({ kind: 'corrected', body: { entry: wrong.sequence, reason: 'meant seven' } });
  });

  it('may itself be corrected, and so on: only the last one stands', async () => {
    let last = await add({ kind: 'tasted', at, bitterness: 1 });
    for (const bitterness of [2, 3, 4]) last = await add({ kind: 'corrected', entry: last.sequence, reason: 'again', replacement: { kind: 'tasted', at, bitterness } });
    const entries = await story();
    expect(entries.map(({ standing }) => standing)).toEqual([false, false, false, true]);
    expect(entries.slice(1).map(({ corrects }) => corrects)).toEqual(entries.slice(0, -1).map(({ sequence }) => sequence));
  });

  it('of an act that was corrected already is refused, and names the one to correct instead', async () => {
    const wrong = await add({ kind: 'tasted', at, bitterness: 1 });
    const right = await add({ kind: 'corrected', entry: wrong.sequence, reason: 'meant seven', replacement: { kind: 'tasted', at, bitterness: 7 } });
    const { detail } = await owner.refused('addEntry', 'wrong-state', { params: { lot }, body: { kind: 'corrected', entry: wrong.sequence, reason: 'x', replacement: null } });
    expect(detail).toContain(String(right.sequence));
  });

  it('takes an act back with nothing in its place', async () => {
    const wrong = await add({ kind: 'brine-changed', at, brineL: 27, saltGPerL: 100 });
    expect(await add({ kind: 'corrected', entry: wrong.sequence, reason: 'other drum', replacement: null })).toEqual({ ...wrong, standing: false, correctedBy: wrong.sequence + 1 });
    expect(await story()).toHaveLength(1);
  });

  it('may say that it was another kind of act', async () => {
    const wrong = await add({ kind: 'brine-topped-up', at, brineL: 27, saltGPerL: 100 });
    expect(await add({ kind: 'corrected', entry: wrong.sequence, reason: 'all of it', replacement: { kind: 'brine-changed', at, brineL: 27, saltGPerL: 100 } })).toMatchObject({ kind: 'brine-changed' });
  });

  it('does not reach into another lot, nor put an act into the future', async () => {
    const wrong = await add({ kind: 'skimmed', at });
    await owner.call('addDrum', { body: { id: 'crock', name: 'Crock', volumeL: 20 } });
    const { lot: other } = await owner.call('openBatch', { body: { drum: 'crock', pickedAt: '2026-09-20', startedAt: '2026-09-21', cut: 'whole', style: 'kept-brine', maturity: 'black', fruitKg: 10, brineL: 9, saltGPerL: 100 } });
    await owner.refused('addEntry', 'does-not-fit', { params: { lot: other }, body: { kind: 'corrected', entry: wrong.sequence, reason: 'x', replacement: null } });
    const { errors } = await owner.refused('addEntry', 'does-not-fit', { params: { lot }, body: { kind: 'corrected', entry: wrong.sequence, reason: 'x', replacement: { kind: 'skimmed', at: toRfc3339(harnessStart + dayMs) } } });
    expect(errors).toEqual([{ path: 'replacement.at', message: 'lies in the future' }]);
  });
});
