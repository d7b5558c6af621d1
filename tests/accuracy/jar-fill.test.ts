import { describe, expect, test } from 'vitest';
import type { DrumFill } from '#domain/jar/brine-displacement.ts';
import { drumFill } from '#domain/jar/brine-displacement.ts';
import { headspace } from '#domain/jar/headspace.ts';
import type { JarFill } from '#domain/jar/jar-fill.ts';
import { jarFill } from '#domain/jar/jar-fill.ts';
import { checkAccuracy } from '../helpers/accuracy.ts';
import { valueOf } from '../helpers/value-of.ts';

const drumOf54L = valueOf(drumFill({ innerDiameterCm: 40, filledL: 54, coverCm: 5 }));
checkAccuracy<keyof DrumFill>({
  quantity: 'filling a drum 40 cm wide to 54 L with 5 cm of brine over the fruit',
  unit: 'L or kg',
  source: 'mass balance with the bulk density of Ozturk 2009 and a fruit density of 1.04 kg/L',
  confidence: 'computed from cited inputs by the cited equation',
  tolerance: 0.06,
  reason: 'stated to 0.1',
  rows: [['coverL', 6.3], ['fruitKg', 28.6], ['fruitL', 27.5], ['brineL', 26.5], ['brineLPerKg', 0.92]],
  actual: (field) => drumOf54L[field],
  mistakes: {
    'as much brine as the drum holds': (field) => (field === 'brineL' ? 54 : drumOf54L[field]),
    'fruit displaces its bulk volume': (field) => (field === 'brineL' ? 54 - drumOf54L.fruitKg / 0.6 : drumOf54L[field]),
    'diameter for radius': (field) => valueOf(drumFill({ innerDiameterCm: 80, filledL: 54, coverCm: 5 }))[field],
  },
});

test('without a cover the brine is about 0.7 L/kg: bed porosity of 42 to 44 % (Ozturk 2009)', () => {
  const fill = valueOf(drumFill({ innerDiameterCm: 40, filledL: 54, coverCm: 0 }));
  expect(fill.brineLPerKg).toBeCloseTo(0.705, 3);
  expect(fill.brineL / 54).toBeGreaterThan(0.42);
  expect(fill.brineL / 54).toBeLessThan(0.44);
});

checkAccuracy<keyof JarFill>({
  quantity: 'a 720 mL jar of whole fruit, filled to 0.90',
  unit: 'mL or kg',
  source: 'least fill of the table olive glossary of the International Olive Council; packing 0.55 kg/L',
  confidence: 'computed from cited inputs by the cited equation',
  tolerance: 0.5,
  reason: 'volumes are stated to the millilitre; the mass is checked to the gram below',
  rows: [['fruitMl', 381], ['brineMl', 267], ['headspaceMl', 72]],
  actual: (field) => valueOf(jarFill(720))[field],
  mistakes: { 'brine as much as the jar': (field) => (field === 'brineMl' ? 720 : valueOf(jarFill(720))[field]), 'filled to the brim': (field) => valueOf(jarFill(720, 0.55, 1))[field] },
});

checkAccuracy<number>({
  quantity: 'drained weight per litre of pack',
  unit: 'kg/L',
  source: 'trade list of drained weights 500, 225 and 2,750 g, in cans of 850, 425 and 4,250 mL (can sizes from memory)',
  confidence: 'from memory',
  tolerance: 0.1,
  reason: 'packs differ from 0.53 to 0.65 kg/L; a default can only lie among them',
  rows: [[850, 500 / 850], [425, 225 / 425], [4_250, 2_750 / 4_250]],
  actual: (jarMl) => valueOf(jarFill(jarMl)).fruitKg / (jarMl / 1_000),
  mistakes: { 'fruit density for packing': () => 1.04, 'the jar filled to 0.90 with fruit': () => 0.9 * 0.55 - 0.1 },
});

test('parts of a jar add up to the jar, and 0.396 kg of fruit are in it', () => {
  for (const jarMl of [200, 370, 720, 1_062, 4_250]) {
    const jar = valueOf(jarFill(jarMl));
    expect(jar.fruitMl + jar.brineMl + jar.headspaceMl).toBeCloseTo(jarMl, 9);
  }
  expect(valueOf(jarFill(720)).fruitKg).toBeCloseTo(0.396, 10);
});

test('10 mm under the brim of a 70 mm mouth are 38.5 mL; 25 mm are too much in a 720 mL jar', () => {
  expect(valueOf(headspace(10, 70, 720)).headspaceMl).toBeCloseTo(38.48, 2);
  expect(valueOf(headspace(10, 70, 720))).toMatchObject({ enough: true });
  expect(valueOf(headspace(25, 70, 720))).toMatchObject({ enough: false });
});

describe('refusals name their field', () => {
  test.each([
    ['jarMl', () => jarFill(0)], ['jarMl', () => jarFill(Number.NaN)], ['packingKgPerL', () => jarFill(720, 1.2)], ['fillFraction', () => jarFill(720, 0.55, 90)],
    ['headspaceMm', () => headspace(-1, 70, 720)], ['headspaceMm', () => headspace(100, 120, 720)], ['innerDiameterMm', () => headspace(10, 7, 720)],
    ['filledL', () => drumFill({ innerDiameterCm: 40, filledL: -5, coverCm: 5 })], ['coverCm', () => drumFill({ innerDiameterCm: 40, filledL: 5, coverCm: 5 })],
    ['fruitKg', () => drumFill({ innerDiameterCm: 40, filledL: 54, coverCm: 5, fruitKg: 50 })],
  ] as const)('%s', (field, call) => {
    expect(call()).toMatchObject({ ok: false, error: { code: 'outside-valid-range', field } });
  });
});
