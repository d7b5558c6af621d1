import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { RouteBody } from '#contract';
import { dayMs, toRfc3339 } from '#domain/units/time.ts';
import { openApiHarness, type ApiClient, type ApiHarness } from '../helpers/api-harness.ts';
import { writeCure } from '../helpers/compare-season.ts';

let harness: ApiHarness;
let owner: ApiClient;
beforeEach(async () => {
  harness = await openApiHarness({ zone: 'Europe/Athens' });
  owner = await harness.as('owner');
});
afterEach(() => harness.close());

const cure = (number: number, batch: Partial<RouteBody<'openBatch'>> = {}, jarred = true, daysAgo = 1): Promise<string> => writeCure(harness, number, { temperatureC: 16, days: 30, measured: 0, jarred, batch }, daysAgo);

describe('GET /api/season', () => {
  it('of an empty shed has no year, no ledger, and a plan from assumptions alone', async () => {
    const season = await owner.call('season');
    expect(season).toMatchObject({ year: null, seasons: [], ledger: null, trees: [], next: { own: [] } });
    expect(season.next.input).toMatchObject({ treesOn: 8, treesOff: 6, drums: 6 });
  });

  it('tells where the fruit of the season went', async () => {
    // 40 jars of 500 mL of slit fruit, 10 kg, of 30 kg: 20 kg less one tasting are missing, and told.
    const lot = await cure(1);
    const going = await cure(2, { fruitKg: 25 }, false);
    const { year, ledger, seasons } = await owner.call('season');
    expect(year).toBe(2026);
    expect(ledger).toMatchObject({ totals: { batches: 2, pickedKg: 55, jars: 40, jarredKg: 10, soldJars: 0, leftJars: 40, curingKg: 24.98, unaccountedKg: 19.98, unaccountedShare: 0.666 }, flagged: [lot], flaggedAbove: 0.05 });
    expect(ledger?.rows.map((row) => [row.lot, row.unaccountedKg])).toEqual([[lot, 19.98], [going, null]]);
    expect(seasons).toEqual([{ year: 2026, batches: 2, pickedKg: 55, jars: 40, soldJars: 0, unaccountedShare: 0.666 }]);
  });

  it('compares years, and opens any of them', async () => {
    await cure(1, { fruitKg: 20 }, true, 366);
    await cure(2, { fruitKg: 30 });
    expect((await owner.call('season')).seasons.map(({ year, pickedKg }) => [year, pickedKg])).toEqual([[2025, 20], [2026, 30]]);
    expect((await owner.call('season', { query: { year: 2025 } })).ledger?.totals.pickedKg).toBe(20);
    expect((await owner.call('season', { query: { year: 2019 } })).ledger).toBe(null);
    await owner.refused('season', 'bad-query', { query: { year: 'last' } });
  });

  it('starts the plan from what this shed has and has seen', async () => {
    for (const number of [1, 2, 3]) await cure(number, { trees: `Picual ${String(number)}` });
    const { next, trees } = await owner.call('season');
    expect(trees.map(({ tree, years }) => [tree, years])).toEqual([1, 2, 3].map((number) => [`Picual ${String(number)}`, [{ year: 2026, kg: 30, load: null, from: 'weighed', bearing: null }]]));
    expect(next.own.toSorted()).toEqual(['cureDays', 'drumL', 'drums', 'jarMl', 'treesOff', 'treesOn']);
    expect(next.input).toMatchObject({ treesOn: 2, treesOff: 1, drums: 3, drumL: 60, jarMl: 500, cureDays: { low: 30, likely: 30, high: 30 } });
  });

  it('is for those who watch the shed', async () => {
    expect((await harness.stranger().fetch('/api/season')).status).toBe(401);
    await (await harness.as('inspector')).refused('season', 'not-allowed');
    await (await harness.as('wall')).call('season');
  });
});

describe('POST /api/season/trees', () => {
  it('writes what a tree bore, and what is written last holds; the journal keeps both', async () => {
    const write = (body: RouteBody<'writeTreeLoad'>) => owner.call('writeTreeLoad', { body });
    await write({ tree: 'Picual 1', year: 2024, kg: 18 });
    await write({ tree: 'Picual 1', year: 2025, kg: 70 });
    const { trees } = await write({ tree: 'Picual 1', year: 2025, kg: 7 });
    expect(trees).toMatchObject([{ tree: 'Picual 1', alternateBearing: 11 / 25, nextYear: 'on' }]);
    await harness.restart();
    expect((await owner.call('season')).trees).toEqual(trees);
    expect((await owner.call('journal')).entries.filter(({ kind }) => kind === 'tree-load')).toHaveLength(3);
  });

  it('wants a tree, a year and a weight or a load', async () => {
    for (const body of [{ tree: 'Picual 1', year: 2025 }, { tree: '', year: 2025, kg: 1 }, { tree: 'Picual 1', year: 1900, kg: 1 }, { tree: 'Picual 1', year: 2025, load: 4 }, { tree: 'Picual 1', year: 2025, kg: -1 }])
      await owner.refused('writeTreeLoad', 'does-not-fit', { body });
    await (await harness.as('wall')).refused('writeTreeLoad', 'not-allowed', { body: { tree: 'Picual 1', year: 2025, kg: 1 } });
    expect((await owner.call('season')).trees).toEqual([]);
  });
});

describe('POST /api/season/plan', () => {
  it('answers bands, weeks and what to buy, the same for the same question, and writes nothing', async () => {
    const before = (await owner.call('journal')).entries.length;
    const plan = await owner.call('planSeason', { body: { treesOn: 10, drums: 5 } });
    expect(plan.input).toMatchObject({ treesOn: 10, treesOff: 6, drums: 5, jarMl: 720 });
    expect(plan.runs).toBe(1_000);
    for (const { p10, p50, p90 } of [...Object.values(plan.figures), ...plan.weeks]) expect([p10 <= p50, p50 <= p90]).toEqual([true, true]);
    expect(plan.shopping.lids).toBeGreaterThan(plan.shopping.jars);
    expect(await owner.call('planSeason', { body: { treesOn: 10, drums: 5 } })).toEqual(plan);
    expect(await owner.call('planSeason', { body: { treesOn: 10, drums: 5, seed: 2 } })).not.toEqual(plan);
    expect((await owner.call('journal')).entries).toHaveLength(before);
  });

  it('refuses what makes no season, by its field', async () => {
    await owner.refused('planSeason', 'does-not-fit', { body: { treesOn: 1.5 } });
    await owner.refused('planSeason', 'does-not-fit', { body: { olives: 3 } });
    const { errors } = await owner.refused('planSeason', 'outside-valid-range', { body: { onKg: { low: 9, likely: 5, high: 10 } } });
    expect(errors?.[0]?.path).toBe('onKg.likely');
    await owner.refused('planSeason', 'outside-valid-range', { body: { treesOn: 500, onKg: { low: 100, likely: 200, high: 400 } } });
  });
});

describe('the ledger as a table', () => {
  it('has a row a batch and the totals, and no formulas', async () => {
    const lot = await cure(1, { trees: 'Leccino 7, 8', variety: '=1+1' });
    await owner.call('addEntry', { params: { lot }, body: { kind: 'observed', at: toRfc3339(harness.clock.now() - dayMs / 2), sign: 'lid-flat' } });
    const { status, headers, body } = await owner.fetch('/api/season.csv');
    expect(status).toBe(200);
    expect(headers.get('content-disposition')).toBe('attachment; filename=season-2026.csv');
    const lines = String(body).split('\r\n');
    expect(lines[0]).toBe('row,season,lot,drum,variety,trees,picked_at,jarred_at,picked_kg,culled_kg,loose_kg,drum_kg,stone_kg,tasted_kg,curing_kg,jars,jarred_kg,sold_jars,sold_kg,left_jars,unaccounted_kg');
    expect(lines[1]).toMatch(new RegExp(`^batch,2026,${lot},barrel-1,'=1\\+1,"Leccino 7, 8",2026-09-02T12:00:00.000Z,[^,]+,30,0,0,30,0,0.02,0,40,10,0,0,40,19.98$`));
    expect(lines.slice(2)).toEqual(['total,2026,,,,,,,30,0,0,30,0,0.02,0,40,10,0,0,40,19.98', '']);
  });

  it('is refused like the ledger itself', async () => {
    expect((await harness.stranger().fetch('/api/season.csv')).status).toBe(401);
    expect((await owner.fetch('/api/season.csv?year=x')).status).toBe(422);
    expect(String((await owner.fetch('/api/season.csv')).body).split('\r\n')).toHaveLength(2);
  });
});
