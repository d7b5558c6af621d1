import { describe, expect, test } from 'vitest';
import type { BenchJar } from '#domain/jar/bench-plan.ts';
import { benchPlan } from '#domain/jar/bench-plan.ts';
import type { BenchReading } from '#domain/jar/bench-result.ts';
import { benchResult } from '#domain/jar/bench-result.ts';
import { checkAccuracy } from '../helpers/accuracy.ts';
import { expectOutside, valueOf } from '../helpers/result.ts';

const plan = valueOf(benchPlan({ brinePercentWw: 8 }));
const jar = (number: number): BenchJar => plan.jars[number - 1] as BenchJar;

// 135 g of 8 % brine (1055.9 kg/m³, 84.47 g/L at 20 °C: Poradnik fizykochemiczny 1974) are 127.85 mL.
checkAccuracy<readonly [jar: number, part: 'vinegarMl' | 'brineMl' | 'saltG']>({
  quantity: 'five jars of 200 g fruit and 135 g of 8 % brine, 5 % vinegar in place of brine', unit: 'mL or g', source: 'common practice; density of 8 % brine from the published table', confidence: 'computed from cited inputs by the cited equation',
  tolerance: 0.02, reason: 'density stated to four digits',
  rows: [[[1, 'vinegarMl'], 0], [[2, 'vinegarMl'], 7], [[3, 'vinegarMl'], 14], [[4, 'vinegarMl'], 21], [[5, 'vinegarMl'], 28], [[1, 'brineMl'], 127.85], [[5, 'brineMl'], 99.85], [[1, 'saltG'], 0], [[5, 'saltG'], 28 * 0.08447]],
  actual: ([number, part]) => jar(number)[part],
  mistakes: {
    'vinegar on top of the brine': ([number, part]) => (part === 'brineMl' ? jar(1).brineMl : jar(number)[part]),
    'the salt of the brine left out forgotten': ([number, part]) => (part === 'saltG' ? 0 : jar(number)[part]),
    '135 g taken for 135 mL': ([number, part]) => (part === 'brineMl' ? 135 - jar(number).vinegarMl : jar(number)[part]),
  },
});

test('every jar holds the same liquid and the same salt, also with other jars, strengths and vinegars', () => {
  for (const input of [{ brinePercentWw: 6 }, { brinePercentWw: 10, vinegarPercent: 4 }, { brinePercentWw: 8, fruitG: 400, brineG: 270, vinegarPercent: 6 }]) {
    const { jars } = valueOf(benchPlan(input));
    const [first] = jars;
    const saltPerMl = (jars[4]?.saltG ?? 0) / (jars[4]?.vinegarMl ?? 1);
    for (const each of jars) {
      expect(each.brineMl + each.vinegarMl).toBeCloseTo(first?.brineMl ?? 0, 9);
      expect(each.brineMl * saltPerMl + each.saltG).toBeCloseTo((first?.brineMl ?? 0) * saltPerMl, 9);
    }
  }
});

test('the same grams of acetic acid per kilogram, whatever the vinegar', () => {
  const acetic = (vinegarPercent: number): number => (valueOf(benchPlan({ brinePercentWw: 8, vinegarPercent })).jars[4]?.vinegarMl ?? 0) * vinegarPercent;
  expect(acetic(4)).toBeCloseTo(acetic(5), 9);
  expect(acetic(10)).toBeCloseTo(140, 9);
});

// Invented pH; the arithmetic is what is checked.
const phs = [4.9, 4.42, 4.2, 4.04, 3.95];
const onDay = (day: number, shift = 0): BenchReading[] => phs.map((ph, i) => ({ jar: i + 1, day, ph: ph + shift }));
const batchKg = 28.6 + 26.5 * 1.0559;

checkAccuracy<'jar' | 'batch'>({
  quantity: 'the dose for pH 4.1 (4.3 less 0.1 for the meter and 0.1 for the spread) from the day-7 line', unit: 'mL', source: 'straight line between the doses around the target, scaled by all of fruit and brine',
  confidence: 'computed from cited inputs by the cited equation', tolerance: 0.5, reason: 'exact',
  rows: [['jar', 14 + (7 * 0.1) / 0.16], ['batch', ((14 + (7 * 0.1) / 0.16) * batchKg * 1_000) / 335]],
  actual: (what) => { const dose = valueOf(benchResult(plan, [...onDay(1, -0.1), ...onDay(3, -0.03), ...onDay(7)], batchKg)); return what === 'jar' ? dose.jarAcidMl : dose.batchAcidMl; },
  mistakes: {
    'the line of day 3': (what) => { const dose = valueOf(benchResult(plan, onDay(7, -0.03), batchKg)); return what === 'jar' ? dose.jarAcidMl : dose.batchAcidMl; },
    'scaled by the brine alone': (what) => (what === 'jar' ? 18.375 : (18.375 * 26.5 * 1_055.9) / 135),
    'the nearest dose taken': (what) => (what === 'jar' ? 21 : (21 * batchKg * 1_000) / 335),
  },
});

describe('a trial does not answer early, in part, or beyond what was tried', () => {
  test('before day 7', () => expect(benchResult(plan, [...onDay(1), ...onDay(3), ...onDay(6)], batchKg)).toMatchObject({ ok: false, error: { code: 'not-yet' } }));
  test('with a jar missing, or spread over two days', () => {
    expect(benchResult(plan, onDay(7).slice(1), batchKg)).toMatchObject({ ok: false, error: { code: 'jar-missing' } });
    expect(benchResult(plan, [...onDay(7).slice(0, 2), ...onDay(8).slice(2)], batchKg)).toMatchObject({ ok: false, error: { code: 'jar-missing' } });
  });
  test('where the largest dose was not enough, or none was needed', () => {
    expect(benchResult(plan, onDay(7, 0.3), batchKg)).toMatchObject({ ok: false, error: { code: 'not-crossed' } });
    expect(benchResult(plan, onDay(7, -0.9), batchKg)).toMatchObject({ ok: false, error: { code: 'not-crossed' } });
  });
  test('at a target that is no target, or for a batch of nothing', () => {
    expect(benchResult(plan, onDay(7), batchKg, 5)).toMatchObject({ ok: false, error: { code: 'outside-valid-range' } });
    expect(benchResult(plan, onDay(7), 0)).toMatchObject({ ok: false, error: { code: 'outside-valid-range' } });
    expect(benchResult(plan, onDay(7, Number.NaN), batchKg)).toMatchObject({ ok: false });
  });
  test('a later full day replaces day 7, and says how far it moved; the higher of two readings counts', () => {
    const later = valueOf(benchResult(plan, [...onDay(7), ...onDay(21, 0.04)], batchKg));
    expect(later).toMatchObject({ day: 21, stillMoving: expect.closeTo(0.04, 9) as number });
    expect(later.jarAcidMl).toBeGreaterThan(valueOf(benchResult(plan, onDay(7), batchKg)).jarAcidMl);
    expect(valueOf(benchResult(plan, [...onDay(7), ...onDay(7, 0.04)], batchKg)).jarAcidMl).toBeCloseTo(later.jarAcidMl, 9);
  });
});

test('outside the valid range', () => {
  expectOutside(benchPlan({ brinePercentWw: 30 }), 'brinePercentWw');
  expectOutside(benchPlan({ brinePercentWw: 8, fruitG: 0 }), 'fruitG');
  expectOutside(benchPlan({ brinePercentWw: 8, vinegarPercent: 80 }), 'vinegarPercent');
  expectOutside(benchPlan({ brinePercentWw: 8, largestMl: 80 }), 'largestMl');
  expectOutside(benchPlan({ brinePercentWw: Number.NaN }), 'brinePercentWw');
});
