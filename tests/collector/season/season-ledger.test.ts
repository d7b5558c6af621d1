import fc from 'fast-check';
import { beforeEach, describe, expect, test } from 'vitest';
import type { EntryBodies } from '#domain/journal/entry.ts';
import { seasonLedger, unaccountedLimit } from '#domain/season/season-ledger.ts';
import { seasonsOf } from '#domain/season/seasons.ts';
import { treesNamed } from '#domain/season/trees.ts';
import { treeYearsOf } from '#domain/season/tree-years.ts';
import { dayMs, toRfc3339, type EpochMs } from '#domain/units/time.ts';
import { createShedBook, openDrum, type ShedBook } from '../../helpers/shed-book.ts';

const zone = 'Europe/Athens';
const start = Date.UTC(2026, 9, 5, 7);
const later = start + 400 * dayMs;
const on = (day: number): EpochMs => start + day * dayMs;
let book: ShedBook;
beforeEach(() => {
  book = createShedBook();
});

let drums = 0;
const pick = (day: number, batch: Partial<EntryBodies['batch-opened']> = {}): string => openDrum(book, on(day), batch, `barrel-${String((drums += 1))}`, `probe-${String(drums)}`);
const jar = (lot: string, day: number, jars: number, jarMl = 720): number => book.write('jarred', { lot, at: toRfc3339(on(day)), jars, jarMl, brine: '8 %', ingredients: ['olives', 'water', 'salt'] }, on(day));
const taste = (lot: string, day: number): number => book.write('tasted', { lot, at: toRfc3339(on(day)), bitterness: 3 }, on(day));
const sell = (lot: string, day: number, jars: number): number => book.write('distributed', { lot, at: toRfc3339(on(day)), to: 'Saturday market', jars }, on(day));
const ledger = (year = 2026, now = later) => seasonLedger(book.shed, year, zone, now);

describe('seasons', () => {
  test('are runs of picks with less than 120 days between them, named by the year of the first', () => {
    const lots = [pick(0), pick(60), pick(120), pick(365), pick(370)];
    expect(seasonsOf(book.shed, zone).map(({ year, batches }) => [year, batches.map(({ lot }) => lot)])).toEqual([[2026, lots.slice(0, 3)], [2027, lots.slice(3)]]);
  });

  test('do not break at new year, and hold in the southern half, where the harvest lies inside one year', () => {
    openDrum(book, Date.UTC(2026, 11, 20), {}, 'barrel-a');
    openDrum(book, Date.UTC(2027, 0, 15), {}, 'barrel-b');
    openDrum(book, Date.UTC(2027, 11, 1), {}, 'barrel-c');
    expect(seasonsOf(book.shed, zone).map(({ year, batches }) => [year, batches.length])).toEqual([[2026, 2], [2027, 1]]);
    book = createShedBook();
    for (const [index, month] of [2, 3, 5].entries()) openDrum(book, Date.UTC(2026, month, 20), {}, `barrel-${String(index)}`);
    expect(seasonsOf(book.shed, 'Australia/Adelaide').map(({ year, batches }) => [year, batches.length])).toEqual([[2026, 3]]);
  });

  test('take the year from the place: a pick in the first hours of the year', () => {
    openDrum(book, Date.UTC(2026, 11, 31, 23), {}, 'barrel-a');
    expect(seasonsOf(book.shed, 'Europe/Athens')[0]?.year).toBe(2027);
    expect(seasonsOf(book.shed, 'Europe/London')[0]?.year).toBe(2026);
  });
});

describe('the ledger', () => {
  test('of no season is none', () => {
    expect(ledger()).toBe(null);
    pick(0);
    expect(ledger(2025)).toBe(null);
  });

  test('of one pick still in its drum: all of it is curing, and nothing can be missing yet', () => {
    const lot = pick(0, { fruitKg: 30 });
    taste(lot, 10);
    expect(ledger(2026, on(20))).toMatchObject({ totals: { batches: 1, pickedKg: 30, curingKg: 29.98, jars: 0, soldJars: 0, unaccountedKg: 0, unaccountedShare: null }, rows: [{ lot, unaccountedKg: null, jarredAt: null }], flagged: [] });
  });

  test('follows fruit into jars and to the market; the worked example of the row, by hand', () => {
    const lot = pick(0, { fruitKg: 36, cut: 'pitted' });
    for (const day of [7, 14, 26]) taste(lot, day);
    jar(lot, 28, 80);
    sell(lot, 45, 12);
    const { rows: [row], totals, flagged } = ledger() ?? { rows: [], totals: null, flagged: null };
    // 36 × 0.17; 3 × 5 / 250; 80 × 0.72 × 0.50; 28.8 × 12 / 80.
    expect(row).toMatchObject({ stoneKg: expect.closeTo(6.12, 9) as number, tastedKg: expect.closeTo(0.06, 9) as number, jarredKg: expect.closeTo(28.8, 9) as number, soldKg: expect.closeTo(4.32, 9) as number, unaccountedKg: expect.closeTo(1.02, 9) as number });
    expect(totals).toMatchObject({ jars: 80, soldJars: 12, leftJars: 68, curingKg: 0, unaccountedShare: expect.closeTo(1.02 / 36, 9) as number });
    expect(flagged).toEqual([]);
  });

  test('flags a lot of which more than a twentieth is missing, and one with more in jars than went in', () => {
    const [missing, over, fine] = [pick(0, { fruitKg: 30, cut: 'whole' }), pick(5, { fruitKg: 30, cut: 'whole' }), pick(9, { fruitKg: 30, cut: 'whole' })];
    jar(missing, 30, 71);
    jar(over, 30, 80);
    jar(fine, 30, 74);
    expect(ledger()?.rows.map(({ unaccountedKg }) => Math.sign(unaccountedKg ?? 0))).toEqual([1, -1, 1]);
    expect(ledger()?.flagged).toEqual([missing, over]);
    expect(unaccountedLimit).toBe(0.05);
  });

  test('goes by what stands: a jarring taken back puts the fruit into the drum again', () => {
    const lot = pick(0, { fruitKg: 30, cut: 'whole' });
    const entry = jar(lot, 30, 70);
    book.write('corrected', { entry, reason: 'wrong drum', replacement: null }, on(31));
    expect(ledger()?.totals).toMatchObject({ jars: 0, curingKg: 30, unaccountedShare: null });
  });

  test('knows only what had happened by then', () => {
    const lot = pick(0, { fruitKg: 30, cut: 'whole' });
    jar(lot, 30, 70);
    expect(ledger(2026, on(29))?.totals).toMatchObject({ jars: 0, curingKg: 30 });
    expect(ledger(2026, on(31))?.totals).toMatchObject({ jars: 70, curingKg: 0 });
  });

  test('loses no kilogram: picked = culls + stones + tasted + curing + jarred + unaccounted, for any season', () => {
    const batch = fc.record({ kg: fc.integer({ min: 5, max: 60 }), cut: fc.constantFrom('whole' as const, 'pitted' as const, 'slit' as const), tastings: fc.integer({ min: 0, max: 5 }), jars: fc.option(fc.integer({ min: 1, max: 150 })) });
    fc.assert(
      fc.property(fc.array(batch, { minLength: 1, maxLength: 5 }), (batches) => {
        book = createShedBook();
        for (const [index, { kg, cut, tastings, jars }] of batches.entries()) {
          const lot = pick(index * 7, { fruitKg: kg, cut, lot: `lot-${String(index)}` });
          for (let i = 0; i < tastings; i += 1) taste(lot, index * 7 + 3);
          if (jars !== null) jar(lot, index * 7 + 30, jars);
        }
        const { pickedKg, culledKg, looseKg, stoneKg, tastedKg, curingKg, jarredKg, unaccountedKg } = ledger()?.totals ?? ({} as never);
        expect(culledKg + looseKg + stoneKg + tastedKg + curingKg + jarredKg + unaccountedKg).toBeCloseTo(pickedKg, 9);
      }),
      { seed: 7, numRuns: 60 },
    );
  });
});

describe('with picks written down', () => {
  const picked = (code: string, day: number, massKg: number, trees: readonly string[], variety = 'Picual'): number => book.write('picked', { pick: code, at: toRfc3339(on(day)), massKg, trees, variety }, on(day));

  test('culls and what is in no drum stand before the drums, by hand: 42 kg less 3 kg culled, 36 kg in a drum, 3 kg loose', () => {
    picked('P26-01', 0, 42, ['1', '2', '3']);
    book.write('sorted', { pick: 'P26-01', at: toRfc3339(on(0)), culls: [{ cause: 'olive fly', kg: 2 }, { cause: 'hail', kg: 1 }] }, on(0));
    const lot = pick(0, { fruitKg: 36, cut: 'whole', picks: [{ pick: 'P26-01', kg: 36 }], trees: 'Picual 9' });
    picked('P26-02', 9, 10, ['4']);
    expect(ledger()).toMatchObject({ totals: { picks: 2, batches: 1, pickedKg: 52, culledKg: 3, looseKg: 13, drumKg: 36, curingKg: 36 }, rows: [{ lot, pickedKg: 42, culledKg: 3, looseKg: 3 }] });
    expect(treeYearsOf(book.shed, zone).map(({ tree, years }) => [tree, years[0]?.kg, years[0]?.from])).toEqual([['Picual 1', 14, 'shared'], ['Picual 2', 14, 'shared'], ['Picual 3', 14, 'shared'], ['Picual 4', 10, 'weighed']]);
  });

  test('one pick in two drums, and a split, count their fruit once', () => {
    picked('P26-01', 0, 60, ['7'], 'Leccino');
    const [one, other] = [pick(0, { fruitKg: 30, picks: [{ pick: 'P26-01', kg: 30 }] }), pick(0, { fruitKg: 25, picks: [{ pick: 'P26-01', kg: 25 }] })];
    taste(one, 5);
    book.write('split', { lot: one, at: toRfc3339(on(10)), into: 'part', drum: 'barrel-x', fruitKg: 10, brineL: 9 }, on(10));
    expect(ledger()?.totals).toMatchObject({ picks: 1, pickedKg: expect.closeTo(60, 9) as number, drumKg: 55, looseKg: expect.closeTo(5, 9) as number, tastedKg: expect.closeTo(0.02, 9) as number });
    expect(new Map(ledger()?.rows.map(({ lot, drumKg }) => [lot, drumKg]))).toEqual(new Map([[one, 20], [other, 25], ['part', 10]]));
    expect(treeYearsOf(book.shed, zone)).toMatchObject([{ tree: 'Leccino 7', years: [{ kg: 60 }] }]);
  });

  test('a pick taken back was none; a pick alone begins a season', () => {
    picked('P26-01', 0, 60, ['7']);
    expect(ledger()?.totals).toMatchObject({ picks: 1, batches: 0, pickedKg: 60, looseKg: 60 });
    book.write('pick-amended', { pick: 'P26-01', takenBack: 'written twice' }, on(1));
    expect(ledger()).toBe(null);
  });
});

describe('trees', () => {
  test.each([
    ['Leccino 7, 8', ['Leccino 7', 'Leccino 8']], ['Picual 1-3', ['Picual 1', 'Picual 2', 'Picual 3']], ['Frantoio 14', ['Frantoio 14']], ['Picual 1, 2 and Leccino 9', ['Picual 1', 'Picual 2', 'Leccino 9']],
    ['the old one by the gate', ['the old one by the gate']], ['3, 4', ['3', '4']], ['', []], ['Picual 2, 2', ['Picual 2']],
  ])('%s', (text, trees) => {
    expect(treesNamed(text)).toEqual(trees);
  });

  const load = (tree: string, year: number, rest: Pick<EntryBodies['tree-load'], 'kg' | 'load'>): number => book.write('tree-load', { tree, year, ...rest }, on(0));

  test('fruit of several trees weighed together is split evenly, and said so; what is written for a tree wins', () => {
    pick(0, { trees: 'Picual 1, 2', fruitKg: 30 });
    pick(7, { trees: 'Picual 2', fruitKg: 5 });
    pick(9, { trees: 'Picual 10', fruitKg: 12 });
    expect(treeYearsOf(book.shed, zone).map(({ tree, years }) => [tree, years[0]?.kg, years[0]?.from])).toEqual([['Picual 1', 15, 'shared'], ['Picual 2', 20, 'shared'], ['Picual 10', 12, 'weighed']]);
    load('Picual 1', 2026, { kg: 17.5 });
    load('Picual 1', 2026, { kg: 18.5 });
    expect(treeYearsOf(book.shed, zone)[0]).toMatchObject({ tree: 'Picual 1', years: [{ year: 2026, kg: 18.5, from: 'written' }] });
  });

  test('swing from year to year: index of Pearce & Dobersek-Urbanc 1967 (from memory), by hand 11/25 for 18, 7, 18, 7', () => {
    for (const [index, kg] of [18, 7, 18, 7].entries()) load('Picual 1', 2023 + index, { kg });
    const [tree] = treeYearsOf(book.shed, zone);
    expect(tree?.alternateBearing).toBeCloseTo(11 / 25, 12);
    expect(tree?.years.map(({ bearing }) => bearing)).toEqual(['on', 'off', 'on', 'off']);
    expect(tree?.nextYear).toBe('on');
  });

  test('are steady where they hardly swing, and unknown after one year', () => {
    for (const [index, kg] of [18, 17, 19].entries()) load('Leccino 7', 2024 + index, { kg });
    load('Leccino 8', 2026, { kg: 12 });
    expect(treeYearsOf(book.shed, zone).map(({ nextYear, alternateBearing }) => [nextYear, alternateBearing === null])).toEqual([[null, false], [null, true]]);
  });

  test('an index needs years in a row; a year without kilograms breaks the run', () => {
    load('Picual 1', 2022, { kg: 30 });
    load('Picual 1', 2024, { kg: 10 });
    load('Picual 1', 2025, { kg: 20 });
    expect(treeYearsOf(book.shed, zone)[0]?.alternateBearing).toBeCloseTo(1 / 3, 12);
    load('Picual 1', 2026, { load: 0 });
    expect(treeYearsOf(book.shed, zone)[0]).toMatchObject({ alternateBearing: null, nextYear: 'on' });
  });

  test('judged by eye: heavy and fair are on, little and none are off', () => {
    for (const value of [3, 2, 1, 0] as const) load('Picual 1', 2020 + value, { load: value });
    expect(treeYearsOf(book.shed, zone)[0]?.years.map(({ load: seen, bearing }) => [seen, bearing])).toEqual([[0, 'off'], [1, 'off'], [2, 'on'], [3, 'on']]);
  });
});
