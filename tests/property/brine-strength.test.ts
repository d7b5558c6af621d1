import fc from 'fast-check';
import { expect, test } from 'vitest';
import { brineBases, brineStrength, convertBrine, percentWwFrom } from '#domain/brine/bases.ts';
import type { BrineBasis, BrineStrength } from '#domain/brine/bases.ts';
import { densityInRange } from '#domain/brine/density.ts';
import { readHydrometer } from '#domain/brine/hydrometer.ts';
import { isSound, valueOf } from '../helpers/result.ts';

const seed = 20260401;
const percentWw = fc.double({ min: 0, max: 26.5, noNaN: true });
const temperatureC = fc.double({ min: 0, max: 40, noNaN: true });
const field: Readonly<Record<BrineBasis, keyof BrineStrength>> = {
  'percent-ww': 'percentWw', 'g-per-100g-water': 'gPer100GWater', 'percent-wv': 'percentWv', 'g-per-l': 'gPerL',
  molality: 'molality', salometer: 'salometer', density: 'densityKgPerM3',
};

test.each(brineBases)('%s: there and back over the whole range', (basis) => {
  fc.assert(
    fc.property(percentWw, temperatureC, (w, t) => {
      const back = valueOf(percentWwFrom(basis, valueOf(brineStrength(w, t))[field[basis]], t));
      // Strength of water found from density: a double holds 1000 kg/m³ to 1e-13, a tenth of that in % w/w is lost in the slope.
      expect(Math.abs(back - w)).toBeLessThan(1e-9);
    }),
    { seed, numRuns: 400 },
  );
});

test('both ends of the range belong to it, on every basis', () => {
  for (const basis of brineBases) {
    for (const w of [0, 26.5]) expect(valueOf(percentWwFrom(basis, valueOf(brineStrength(w, 20))[field[basis]], 20))).toBeCloseTo(w, 9);
  }
});

test('more salt is denser and leaves less free water; every basis rises together', () => {
  fc.assert(
    fc.property(percentWw, fc.double({ min: 1e-3, max: 5, noNaN: true }), temperatureC, (w, more, t) => {
      fc.pre(w + more <= 26.5);
      const [thin, strong] = [valueOf(brineStrength(w, t)), valueOf(brineStrength(w + more, t))];
      for (const key of Object.values(field)) expect(strong[key]).toBeGreaterThan(thin[key]);
      expect(strong.waterActivity).toBeLessThan(thin.waterActivity);
    }),
    { seed, numRuns: 400 },
  );
});

test('from 2 % w/w on, warmer brine is lighter; plain water turns at 4 °C and may not', () => {
  fc.assert(
    fc.property(fc.double({ min: 2, max: 26.5, noNaN: true }), fc.double({ min: 0, max: 39, noNaN: true }), (w, t) => {
      expect(densityInRange(w, t + 1)).toBeLessThan(densityInRange(w, t));
    }),
    { seed, numRuns: 400 },
  );
  expect(densityInRange(0, 4)).toBeGreaterThan(densityInRange(0, 0));
});

test('a hydrometer at its own temperature reads the density itself', () => {
  fc.assert(
    fc.property(percentWw, temperatureC, (w, t) => {
      const answer = valueOf(readHydrometer({ densityKgPerM3: densityInRange(w, t), sampleC: t, calibratedAtC: t }));
      expect(answer.percentWw).toBeCloseTo(w, 8);
    }),
    { seed, numRuns: 200 },
  );
});

test('no answer is ever not a number, whatever is asked', () => {
  fc.assert(
    fc.property(fc.constantFrom(...brineBases), fc.double(), fc.double(), (basis, value, t) => {
      expect(isSound(convertBrine(basis, value, t))).toBe(true);
    }),
    { seed, numRuns: 1000 },
  );
});
