import { describe, expect, test } from 'vitest';
import { alternateBearingIndex } from '#domain/season/alternate-bearing.ts';
import { maturityClasses, maturityIndex } from '#domain/season/maturity-index.ts';
import type { Harvest, Yield } from '#domain/season/yield.ts';
import { harvestYield, yieldDefaults } from '#domain/season/yield.ts';
import { checkAccuracy } from '../helpers/accuracy.ts';
import { valueOf } from '../helpers/value-of.ts';

const index = (counts: readonly number[]): number => valueOf(maturityIndex(counts)).index;
const plainSum = (counts: readonly number[]): number => counts.reduce((sum, count, maturityClass) => sum + maturityClass * count, 0);
checkAccuracy<readonly number[]>({
  quantity: 'maturity index',
  unit: '',
  source: 'harvest maturity index of olive growing handbooks, classes 0 to 7',
  confidence: 'computed from cited inputs by the cited equation',
  tolerance: 0.005,
  reason: 'stated to two decimals',
  rows: [[[5, 20, 35, 20, 12, 5, 2, 1], 2.42], [[10, 40, 70, 40, 24, 10, 4, 2], 2.42], [[50, 0, 0, 0, 0, 0, 0, 0], 0], [[0, 0, 0, 0, 0, 0, 0, 3], 7]],
  actual: index,
  mistakes: {
    'divided by 100 whatever was counted': (counts) => plainSum(counts) / 100,
    'classes counted from 1': (counts) => index(counts) + 1,
    'mean of the counts': (counts) => counts.reduce((sum, count) => sum + count, 0) / maturityClasses.length,
  },
});

test.each([[[90, 10, 0, 0, 0, 0, 0, 0], 'green'], [[0, 1, 0, 0, 0, 0, 0, 0], 'green'], [[0, 0, 1, 0, 0, 0, 0, 0], 'turning'], [[0, 0, 0, 1, 1, 0, 0, 0], 'black']])('%j is %s', (counts, stage) => {
  expect(valueOf(maturityIndex(counts)).stage).toBe(stage);
});

checkAccuracy<readonly number[]>({
  quantity: 'alternate bearing index',
  unit: '',
  source: 'Pearce & Dobersek-Urbanc 1967',
  confidence: 'from memory',
  tolerance: 1e-9,
  reason: 'small fractions worked by hand',
  rows: [[[18, 7, 18, 7], 11 / 25], [[10, 10, 10], 0], [[30, 0, 30], 1], [[20, 10, 30], (1 / 3 + 1 / 2) / 2], [[5, 0, 0, 5], 2 / 3]],
  actual: (years) => valueOf(alternateBearingIndex(years)),
  mistakes: {
    'divided by the years, not the pairs': (years) => (valueOf(alternateBearingIndex(years)) * (years.length - 1)) / years.length,
    'first against last': (years) => Math.abs((years[0] as number) - (years.at(-1) as number)) / ((years[0] as number) + (years.at(-1) as number)),
  },
});

interface Worked { readonly harvest: Harvest; readonly field: Exclude<keyof Yield, 'assumed'> }
const buckets: Harvest = { volumeL: 80, jarMl: 720 };
const drum: Harvest = { fruitKg: 28.6, cullFraction: 0.03, jarMl: 720 };
/** Eight trees in an on year at 18 kg and six in an off year at 7 kg, less 8 % culls, less 3 % at jarring. */
const season: Harvest = { fruitKg: 8 * 18 + 6 * 7, cullFraction: 1 - 0.92 * 0.97, jarMl: 720 };
const worked = ({ harvest, field }: Worked): number => valueOf(harvestYield(harvest))[field];
checkAccuracy<Worked>({
  quantity: 'from the pick to the jars',
  unit: 'of the value',
  source: 'mass balance with bulk density 0.60 kg/L (Ozturk 2009), 0.55 kg of fruit per litre of jar and 8 % w/w brine',
  confidence: 'computed from cited inputs by the cited equation',
  tolerance: 0.005,
  relative: true,
  reason: 'stated to three figures; jars are compared exactly below',
  rows: [
    [{ harvest: buckets, field: 'fruitKg' }, 48], [{ harvest: buckets, field: 'curedKg' }, 45.6], [{ harvest: buckets, field: 'jars' }, 115],
    [{ harvest: drum, field: 'jars' }, 70], [{ harvest: drum, field: 'brineL' }, 20.6], [{ harvest: drum, field: 'saltG' }, 1_740],
    [{ harvest: season, field: 'jars' }, 419], [{ harvest: season, field: 'brineL' }, 123],
  ],
  actual: worked,
  mistakes: {
    'jars times jar volume for the brine': (row) => (row.field === 'brineL' ? (worked({ ...row, field: 'jars' }) * row.harvest.jarMl) / 1_000 : worked(row)),
    'loss forgotten': (row) => worked({ ...row, harvest: { ...row.harvest, brineLoss: 0 } }),
    '8 g for 100 mL of water': (row) => (row.field === 'saltG' ? worked({ ...row, field: 'brineL' }) * 80 : worked(row)),
    'culls forgotten': (row) => worked({ ...row, harvest: { ...row.harvest, cullFraction: 0 } }),
    'bucket litres taken for kilograms': (row) => (row.harvest.volumeL === undefined ? worked(row) : worked({ ...row, harvest: { jarMl: 720, fruitKg: row.harvest.volumeL } })),
  },
});

describe('yield', () => {
  test.each([[buckets, 115], [drum, 70], [season, 419]])('counts jars exactly: %j', (harvest, jars) => {
    expect(valueOf(harvestYield(harvest)).jars).toBe(jars);
  });

  test('pitting takes the stones', () => {
    expect(valueOf(harvestYield({ fruitKg: 100, cullFraction: 0, pitted: true, jarMl: 500 })).curedKg).toBeCloseTo(83, 9);
    expect(valueOf(harvestYield({ fruitKg: 100, cullFraction: 0, jarMl: 500 })).curedKg).toBeCloseTo(100, 9);
  });

  test('names what was assumed', () => {
    expect(valueOf(harvestYield({ ...buckets, ...yieldDefaults }))).toMatchObject({ jars: 115, assumed: ['packingKgPerL', 'bulkDensityKgPerL'] });
    expect(valueOf(harvestYield(buckets)).assumed).toContain('bulkDensityKgPerL');
    expect(valueOf(harvestYield({ fruitKg: 10, cullFraction: 0, pitted: false, weightChange: 0, packingKgPerL: 0.55, brinePercentWw: 8, brineLoss: 0, jarMl: 500 })).assumed).toEqual([]);
  });

  test('too little for one jar is no jar', () => {
    expect(valueOf(harvestYield({ fruitKg: 0.3, jarMl: 720 }))).toMatchObject({ jars: 0, brineL: 0, saltG: 0 });
  });
});

describe('refusals name their field', () => {
  test.each([
    ['counts', () => maturityIndex([1, 2, 3])], ['counts', () => maturityIndex([0, 0, 0, 0, 0, 0, 0, 0])], ['counts.1', () => maturityIndex([1, -1, 0, 0, 0, 0, 0, 0])],
    ['counts.0', () => maturityIndex([1.5, 0, 0, 0, 0, 0, 0, 0])], ['counts.7', () => maturityIndex([1, 0, 0, 0, 0, 0, 0, Number.NaN])],
    ['yieldsKg', () => alternateBearingIndex([5])], ['yieldsKg', () => alternateBearingIndex([0, 0])], ['yieldsKg.1', () => alternateBearingIndex([5, -1])],
    ['fruitKg', () => harvestYield({ jarMl: 720 })], ['fruitKg', () => harvestYield({ fruitKg: Number.NaN, jarMl: 720 })], ['volumeL', () => harvestYield({ volumeL: -1, jarMl: 720 })],
    ['cullFraction', () => harvestYield({ fruitKg: 5, cullFraction: 5, jarMl: 720 })], ['jarMl', () => harvestYield({ fruitKg: 5, jarMl: 0 })],
  ] as const)('%s', (field, call) => {
    expect(call()).toMatchObject({ ok: false, error: { code: 'outside-valid-range', field } });
  });
});
