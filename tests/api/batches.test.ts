import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { dayMs, hourMs } from '#contract';
import { toRfc3339 } from '#domain/units/time.ts';
import { harnessStart, openApiHarness, openShed, type ApiClient, type ApiHarness } from '../helpers/api-harness.ts';

let harness: ApiHarness;
let owner: ApiClient;
const open = async (options: Parameters<typeof openApiHarness>[0] = {}): Promise<void> => {
  harness = await openApiHarness(options);
  owner = await harness.as('owner');
};
beforeEach(() => open());
afterEach(() => harness.close());

const addDrum = (id: string) => owner.call('addDrum', { body: { id, name: `Drum ${id}`, volumeL: 60 } });
const body = { drum: 'crock', pickedAt: '2026-09-20', startedAt: '2026-09-21', cut: 'cracked', style: 'kept-brine', maturity: 'turning', fruitKg: 12, brineL: 11, saltGPerL: 100 } as const;

/** ISO/IEC 7064:2003, hybrid system MOD 37,36, as a check of the whole string: the last sum must leave 1 modulo 36. */
const holdsIso7064 = (code: string): boolean => {
  let product = 36;
  const values = code.split('').map((character) => Number.parseInt(character, 36));
  for (const value of values.slice(0, -1)) {
    const sum = (product + value) % 36;
    product = ((sum === 0 ? 36 : sum) * 2) % 37;
  }
  return (product + (values.at(-1) ?? 0)) % 36 === 1;
};

describe('a lot code', () => {
  it('is checked here by the system whose published example holds (GRid standard: A1-2425G-ABC1234002-M)', () => {
    expect(holdsIso7064('A12425GABC1234002M')).toBe(true);
    expect(['A12425GABC1234002N', 'A12425GABC1234020M', '1A2425GABC1234002M'].filter(holdsIso7064)).toEqual([]);
  });

  it('ends in the check character, tells site and year, and is another one for each batch', async () => {
    const lots: string[] = [];
    for (let number = 1; number <= 26; number += 1) {
      await addDrum(`drum-${number}`);
      lots.push((await owner.call('openBatch', { body: { ...body, drum: `drum-${number}` } })).lot);
    }
    expect(lots.every((lot) => holdsIso7064(lot.replace('-', '')))).toBe(true);
    expect(lots.every((lot) => /^HO26-[A-Z]{1,2}[0-9A-Z]$/.test(lot))).toBe(true);
    expect(new Set(lots).size).toBe(26);
  });

  it('is found however it is typed', async () => {
    const lot = await openShed(harness);
    expect(await owner.call('batch', { params: { lot: lot.toLowerCase() } })).toMatchObject({ lot });
    await owner.refused('batch', 'not-found', { params: { lot: `${lot}X` } });
  });

  it('carries the year of the start in the zone of the site', async () => {
    await harness.close();
    await open({ zone: 'Pacific/Auckland' });
    await addDrum('crock');
    harness.clock.set(Date.UTC(2026, 11, 31, 12));
    // 1 January in Auckland, still 31 December in UTC.
    expect((await owner.call('openBatch', { body: { ...body, startedAt: '2026-12-31T11:30:00Z' } })).lot).toMatch(/^HO27-/);
  });
});

describe('a batch', () => {
  it('is opened in a drum and answered whole, with stage, day and forecast', async () => {
    await addDrum('crock');
    const batch = await owner.call('openBatch', { body: { ...body, variety: 'Leccino', trees: [3, 'the old one'], acid: { acid: 'acetic', ml: 200, strengthPercent: 5 } } });
    expect(batch).toMatchObject({
      drum: 'crock',
      pickedAt: '2026-09-20T00:00:00.000Z',
      startedAt: '2026-09-21T00:00:00.000Z',
      cut: 'cracked',
      style: 'kept-brine',
      maturity: 'turning',
      variety: 'Leccino',
      trees: '3, the old one',
      fruitKg: 12,
      brineL: 11,
      saltGPerL: 100,
      stage: 'ferment',
      day: 13,
      jarredAt: null,
      readyToEatAt: null,
      entries: [],
      excursions: [],
    });
    expect(batch.limits.map(({ stage }) => stage).filter((stage) => stage !== null && stage !== 'ferment')).toEqual([]);
    expect(batch.limits.every(({ source }) => source.length > 0)).toBe(true);
    expect(await owner.call('batch', { params: { lot: batch.lot } })).toEqual(batch);
    const { entries: _entries, limits: _limits, excursions: _excursions, trace: _trace, holds: _holds, jars: _jars, ...summary } = batch;
    expect(await owner.call('batches')).toEqual({ batches: [summary] });
    expect((await owner.call('drum', { params: { drum: 'crock' } })).batch).toEqual(summary);
  });

  it('counts its days by the local calendar: the day of the start is day 1', async () => {
    await harness.close();
    await open({ zone: 'America/Los_Angeles' });
    await addDrum('crock');
    const { pickedAt, startedAt, day, lot } = await owner.call('openBatch', { body: { ...body, startedAt: '2026-10-02' } });
    // A date is its first moment there: 00:00 PDT is 07:00 UTC.
    expect({ pickedAt, startedAt, day }).toEqual({ pickedAt: '2026-09-20T07:00:00.000Z', startedAt: '2026-10-02T07:00:00.000Z', day: 2 });
    harness.clock.set(Date.UTC(2026, 9, 4, 6, 59));
    expect((await owner.call('batch', { params: { lot } })).day).toBe(2);
    harness.clock.set(Date.UTC(2026, 9, 4, 7));
    expect((await owner.call('batch', { params: { lot } })).day).toBe(3);
  });

  it('gives a forecast as a range with its basis, or says why there is none', async () => {
    const lot = await openShed(harness);
    await harness.read('p1', Array.from({ length: 240 }, () => 18), { everyMs: hourMs, until: harnessStart - hourMs });
    harness.clock.advance(dayMs);
    const { forecast } = await owner.call('batch', { params: { lot } });
    if (!('readyFrom' in forecast)) throw new Error(JSON.stringify(forecast));
    expect(Object.keys(forecast)).toEqual(['readyFrom', 'readyLikely', 'readyTo', 'basis']);
    const [readyFrom, readyLikely, readyTo] = [forecast.readyFrom, forecast.readyLikely, forecast.readyTo].map((time) => Date.parse(time));
    expect(readyFrom).toBeLessThan(readyLikely ?? 0);
    expect(readyLikely).toBeLessThan(readyTo ?? 0);
    await owner.call('addEntry', { params: { lot }, body: { kind: 'tasted', at: toRfc3339(harness.clock.now()), bitterness: 0 } });
    expect(await owner.call('batch', { params: { lot } })).toMatchObject({ stage: 'hold', forecast: { unknown: expect.stringMatching(/\w/) as string } });
  });

  it('is jarred, rests two weeks (common practice, no source), and is ready to eat', async () => {
    const lot = await openShed(harness);
    harness.collectorWrites({ kind: 'jarred', body: { lot, at: toRfc3339(harnessStart), jars: 60, jarMl: 500, brine: 'fresh', ingredients: [] } });
    expect(await owner.call('batch', { params: { lot } })).toMatchObject({ stage: 'rest', jarredAt: toRfc3339(harnessStart), readyToEatAt: toRfc3339(harnessStart + 14 * dayMs), forecast: { unknown: expect.any(String) as string } });
    harness.clock.advance(14 * dayMs);
    expect(await owner.call('batch', { params: { lot } })).toMatchObject({ stage: 'ready' });
    // Its drum is free, and shows it until another batch goes in.
    expect((await owner.call('drum', { params: { drum: 'barrel-1' } })).batch?.lot).toBe(lot);
    const { lot: next } = await owner.call('openBatch', { body: { ...body, drum: 'barrel-1' } });
    expect((await owner.call('drum', { params: { drum: 'barrel-1' } })).batch?.lot).toBe(next);
  });

  it('does not go into a drum that holds another', async () => {
    const lot = await openShed(harness);
    expect((await owner.refused('openBatch', 'drum-occupied', { body: { ...body, drum: 'barrel-1' } })).detail).toContain(lot);
    await owner.refused('openBatch', 'not-found', { body: { ...body, drum: 'barrel-9' } });
    expect((await owner.call('batches')).batches).toHaveLength(1);
  });

  it('shows its excursions from the alerts about it', async () => {
    const lot = await openShed(harness);
    const at = toRfc3339(harnessStart);
    const alert = { id: 'a1', rule: 'leach-temperature-danger', drum: 'barrel-1', lot, quantity: 'temperature', priority: 'high', since: toRfc3339(harnessStart - hourMs), at, value: 31, limit: { value: 30, unit: 'Cel', source: 's', side: 'high' }, text: 't', advice: 'a' } as const;
    harness.collectorWrites({ kind: 'alert-raised', body: alert });
    harness.collectorWrites({ kind: 'alert-returned', body: { id: 'a1', until: at, at, peak: 33.5 } });
    expect((await owner.call('batch', { params: { lot } })).excursions).toEqual([{ alert: 'a1', rule: 'leach-temperature-danger', quantity: 'temperature', priority: 'high', from: alert.since, to: at, peak: 33.5 }]);
  });

  it('names every field that is missing at once', async () => {
    const { errors } = await owner.refused('openBatch', 'does-not-fit', { body: {} });
    expect(errors?.map(({ path }) => path)).toEqual(['drum', 'startedAt', 'cut', 'style', 'maturity', 'fruitKg', 'brineL', 'saltGPerL', 'pickedAt']);
  });
});
