import { describe, expect, test } from 'vitest';
import { blend, exchangeFor } from '#domain/brine/blend.ts';
import { brineMix } from '#domain/brine/brine-mix.ts';
import { saltByCup } from '#domain/brine/salt-by-cup.ts';
import type { SaltKind } from '#domain/brine/salt-kind.ts';
import { gramsPerCup, saltKinds, scoopWeight } from '#domain/brine/salt-kind.ts';
import { saltEquilibrium } from '#domain/brine/salt-equilibrium.ts';
import { dryLiftG, pouredPercentWwFor, settledPercentWw } from '#domain/brine/settled-strength.ts';
import { usGallonL, usQuartL } from '#domain/units/kitchen.ts';
import { checkAccuracy } from '../helpers/accuracy.ts';
import { expectOutside, valueOf } from '../helpers/result.ts';

checkAccuracy<SaltKind>({
  quantity: 'grams of salt in a level US cup', unit: 'g', source: "a salt maker's conversion chart and kitchen tables: 292, 302, 240, 142 g", confidence: 'read in a second copy of the source',
  tolerance: 12, reason: 'a cup is good to ± 5 % at best, and the sources differ by as much',
  rows: [['table', 292], ['pickling', 302], ['coarse-rolled-kosher', 240], ['light-flake-kosher', 142]],
  actual: (kind) => gramsPerCup[kind].value,
  mistakes: { 'one weight for every salt': () => gramsPerCup.table.value, 'the wrong page that gives light flake 288 g': (kind) => (kind === 'light-flake-kosher' ? 288 : gramsPerCup[kind].value) },
});

type Recipe = readonly [cups: number, kind: SaltKind, waterL: number];
checkAccuracy<Recipe>({
  quantity: 'brine by the cup', unit: '% w/w', source: 'mass balance on published cup weights (283.5 to 292, 240, 135 to 150 g)', confidence: 'computed from cited inputs by the cited equation',
  tolerance: 0.2, reason: 'the cup weight chosen here lies inside the published spread, not at its edge',
  rows: [
    [[0.75, 'table', usGallonL], 5.48], [[0.75, 'coarse-rolled-kosher', usGallonL], 4.55], [[0.75, 'light-flake-kosher', usGallonL], 2.61],
    [[1.5, 'pickling', usGallonL], 10.39], [[1.5, 'coarse-rolled-kosher', usGallonL], 8.7], [[1.5, 'light-flake-kosher', usGallonL], 5.09],
    [[0.25, 'table', usQuartL], 7.17], [[0.25, 'coarse-rolled-kosher', usQuartL], 6], [[0.25, 'light-flake-kosher', usQuartL], 3.4],
  ],
  actual: ([cups, kind, waterL]) => valueOf(saltByCup(cups, kind, waterL)).percentWw.value,
  mistakes: {
    'every salt weighed as table salt': ([cups, , waterL]) => valueOf(saltByCup(cups, 'table', waterL)).percentWw.value,
    'g per 100 g water': ([cups, kind, waterL]) => valueOf(saltByCup(cups, kind, waterL)).saltG.value / (10 * waterL),
    'the metric cup of 250 mL': ([cups, kind, waterL]) => valueOf(saltByCup((cups * 250) / 236.6, kind, waterL)).percentWw.value,
  },
});

checkAccuracy<number>({
  quantity: 'salt per litre of water for a strength', unit: 'kg/L', source: 'a table for home curers (markdymiotis.com): p/(100 - p)', confidence: 'read in the cited source',
  tolerance: 0.0006, reason: 'printed to three decimals for water of 1 kg/L; here it is 0.998', rows: [[8, 0.087], [9, 0.0989], [10, 0.111]],
  actual: (percentWw) => { const mix = valueOf(brineMix(10, percentWw, 20)); return mix.saltG / 1000 / mix.waterL; },
  mistakes: { 'per cent of the water instead of the brine': (percentWw) => percentWw / 100, 'salt and water volumes simply added': (percentWw) => { const mix = valueOf(brineMix(10, percentWw, 20)); return mix.saltG / 1000 / 10; } },
});

checkAccuracy<number>({
  quantity: 'salt in ten litres of brine at 20 °C', unit: 'g', source: 'Poradnik fizykochemiczny 1974, g/L', confidence: 'read in the cited source',
  tolerance: 1, reason: 'density is good to 0.25 kg/m³', rows: [[6, 624.78], [8, 844.72], [10, 1070.7], [12, 1302.84], [20, 2295.6]],
  actual: (percentWw) => valueOf(brineMix(10, percentWw, 20)).saltG, mistakes: { 'brine weighed as water': (percentWw) => 100 * percentWw },
});

interface Drum { readonly start: number; readonly target?: number; readonly brineL?: number; readonly of: 'equilibriumGPerL' | 'brineForTargetGPerL' | 'dryTopUpG' | 'fleshWaterL' }
const drum = ({ start, target, brineL = 7.3, of }: Drum, stoneFraction = 0.17, fleshMoisture = 0.65): number =>
  valueOf(saltEquilibrium({ fruitKg: 10, stoneFraction, fleshMoisture, brineL, brineGPerL: start, targetGPerL: target }))[of] ?? Number.NaN;
checkAccuracy<Drum>({
  quantity: 'salt equilibrium of 10 kg of fruit, stone 0.17, flesh moisture 0.65', unit: 'g/L, L or g', source: 'mass balance over flesh water and brine', confidence: 'computed from cited inputs by the cited equation',
  tolerance: 0.06, reason: 'stated to one or two decimals',
  rows: [
    [{ start: 100, of: 'fleshWaterL' }, 5.395], [{ start: 100, brineL: 8.1, of: 'equilibriumGPerL' }, 60.02], [{ start: 100, of: 'equilibriumGPerL' }, 57.5],
    [{ start: 0, target: 80, of: 'brineForTargetGPerL' }, 139.1], [{ start: 100, target: 80, of: 'dryTopUpG' }, 285.6],
  ],
  actual: drum,
  mistakes: { 'the stone counted as flesh': (input) => drum(input, 0), 'flesh counted as all water': (input) => drum(input, 0.17, 0.9), 'dosed for the brine alone': (input) => (input.of === 'dryTopUpG' ? (80 - 57.5) * 7.3 : drum(input)) },
});

const barrel = { volumeL: 26.5, percentWw: 10 };
checkAccuracy<'settled' | 'settled, firm fruit' | 'settled, juicy fruit' | 'pour for 6' | 'pour for 7' | 'pour for 8'>({
  quantity: 'a 60 L drum, 26.5 L of 10.0 % on 15.4 kg of flesh water', unit: '% w/w', source: 'mass balance in mass terms', confidence: 'computed from cited inputs by the cited equation',
  tolerance: 0.06, reason: 'stated to one decimal',
  rows: [['settled', 6.5], ['settled, juicy fruit', 6.0], ['settled, firm fruit', 7.1], ['pour for 6', 9.3], ['pour for 7', 10.8], ['pour for 8', 12.3]],
  actual: (what) => {
    if (what === 'settled, juicy fruit') return valueOf(settledPercentWw(barrel, 28.6 * 0.88 * 0.75, 20));
    if (what === 'settled, firm fruit') return valueOf(settledPercentWw(barrel, 28.6 * 0.75 * 0.55, 20));
    return what === 'settled' ? valueOf(settledPercentWw(barrel, 15.4, 20)) : valueOf(pouredPercentWwFor(Number(what.slice(-1)), 26.5, 15.4, 20));
  },
  mistakes: { 'the poured strength believed': () => 10, 'the fruit counted as all water': () => valueOf(settledPercentWw(barrel, 28.6, 20)) },
});

checkAccuracy<'both' | 'brine alone'>({
  quantity: 'dry salt from 6.0 to 8.0 %', unit: 'kg', source: 'mass balance', confidence: 'computed from cited inputs by the cited equation',
  tolerance: 0.02, reason: 'stated to two decimals from rounded inputs', rows: [['both', 0.96], ['brine alone', 0.6]],
  actual: (what) => valueOf(dryLiftG(what === 'both' ? 40.95 : 26.1, 6, 8)) / 1000,
  mistakes: { 'two per cent of the water': (what) => (what === 'both' ? 40.95 : 26.1) * 0.02 },
});

checkAccuracy<number>({
  quantity: 'topping up the settled drum of 6.0 % with plain water', unit: '% w/w', source: 'mass balance', confidence: 'computed from cited inputs by the cited equation',
  tolerance: 0.06, reason: 'stated to one decimal', rows: [[3, 5.6]],
  actual: (waterL) => valueOf(blend([{ volumeL: 41.9, percentWw: 6 }, { volumeL: waterL, percentWw: 0 }], 20)).percentWw,
  mistakes: { 'nothing changes': () => 6, 'the water goes into the brine only': (waterL) => valueOf(blend([{ volumeL: 26.5, percentWw: 6 }, { volumeL: waterL, percentWw: 0 }], 20)).percentWw },
});

describe('common practice, no source', () => {
  test('1 1/2 cups of table salt in a 10 L bucket filled with pitted fruit and water: 9 to 10 % before, 5 to 6 % after', () => {
    const fruitKg = 6; // a bucket holds about 0.6 kg of fruit a litre; fruit weighs 1.04 kg/L
    const waterL = 10 - fruitKg / 1.04;
    const { saltG, percentWw } = valueOf(saltByCup(1.5, 'table', waterL));
    expect(percentWw.value).toBeGreaterThan(9);
    expect(percentWw.value).toBeLessThan(10);
    const fleshWaterL = fruitKg * (1 - 0.17) * 0.65;
    const after = (100 * saltG.value) / (saltG.value + 998 * waterL + 998 * fleshWaterL);
    expect(after).toBeGreaterThan(5);
    expect(after).toBeLessThan(6);
    // With light flakes the same words give half: the check would fail.
    expect(valueOf(saltByCup(1.5, 'light-flake-kosher', waterL)).percentWw.value).toBeLessThan(5);
  });
  test('1/3 cup in 2 L is under 5 %, and so under the published 6 % for natural olives', () => {
    for (const kind of saltKinds) expect(valueOf(saltByCup(1 / 3, kind, 2)).percentWw.high).toBeLessThan(5);
  });
});

describe('small things', () => {
  test('cups come with the spread of the salt, low before high', () => {
    const { cups } = valueOf(brineMix(4, 5.5, 20, 'light-flake-kosher'));
    expect(cups?.low).toBeLessThan(cups?.value ?? 0);
    expect(cups?.high).toBeGreaterThan(cups?.value ?? Infinity);
    expect(brineMix(4, 5.5, 20)).toEqual({ ok: true, value: { saltG: expect.closeTo(228.1, 0) as number, waterL: expect.closeTo(3.926, 2) as number } });
  });
  test('a scoop weighed three times: mean, smallest, largest', () => {
    expect(scoopWeight([210, 204, 219])).toEqual({ value: 211, low: 204, high: 219 });
  });
  test('exchanging 25 % stock into 26.5 L at 6 %: the answer put back gives 8 %', () => {
    const { drawL, pourL } = valueOf(exchangeFor({ volumeL: 26.5, percentWw: 6 }, 25, 8, 20));
    expect(drawL).toBeCloseTo(2.79, 2);
    expect(valueOf(blend([{ volumeL: 26.5 - drawL, percentWw: 6 }, { volumeL: pourL, percentWw: 25 }], 20)).percentWw).toBeCloseTo(8, 10);
  });
  test('a target below where the drum settles has no dry top-up', () => {
    const answer = valueOf(saltEquilibrium({ fruitKg: 10, stoneFraction: 0.17, fleshMoisture: 0.65, brineL: 7.3, brineGPerL: 100, targetGPerL: 40 }));
    expect(answer).not.toHaveProperty('dryTopUpG');
    expect(answer.brineForTargetGPerL).toBeCloseTo(69.56, 2);
  });
});

describe('outside the valid range', () => {
  const fruit = { fruitKg: 10, stoneFraction: 0.17, fleshMoisture: 0.65, brineL: 7.3, brineGPerL: 100 };
  test.each([
    [saltEquilibrium({ ...fruit, fruitKg: 0 }), 'fruitKg'], [saltEquilibrium({ ...fruit, stoneFraction: 0.9 }), 'stoneFraction'],
    [saltEquilibrium({ ...fruit, fleshMoisture: 65 }), 'fleshMoisture'], [saltEquilibrium({ ...fruit, brineGPerL: 400 }), 'brineGPerL'],
    [saltEquilibrium({ ...fruit, targetGPerL: 250 }), 'targetGPerL'], [saltEquilibrium({ ...fruit, targetGPerL: Number.NaN }), 'targetGPerL'],
    [saltEquilibrium({ ...fruit, fleshGPerL: 80, targetGPerL: 10 }), 'targetGPerL'], [saltEquilibrium({ ...fruit, fleshGPerL: -1 }), 'fleshGPerL'],
    [brineMix(0, 8, 20), 'brineL'], [brineMix(10, 30, 20), 'targetPercentWw'], [brineMix(10, 8, 60), 'temperatureC'],
    [saltByCup(-1, 'table', 4), 'cups'], [saltByCup(6, 'table', 4), 'cups'], [saltByCup(1, 'table', 0), 'waterL'],
    [blend([], 20), 'volumeL'], [blend([{ volumeL: 1, percentWw: 40 }], 20), 'percentWw'],
    [exchangeFor({ volumeL: 20, percentWw: 6 }, 25, 26, 20), 'targetPercentWw'], [exchangeFor({ volumeL: 20, percentWw: 6 }, 6, 6, 20), 'targetPercentWw'],
    [settledPercentWw({ volumeL: 0, percentWw: 5 }, 3, 20), 'volumeL'], [pouredPercentWwFor(20, 5, 20, 20), 'targetPercentWw'], [dryLiftG(10, 8, 6), 'toPercentWw'],
  ] as const)('case %# is refused by name', (result, field) => expectOutside(result, field));
});
