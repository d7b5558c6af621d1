import fc from 'fast-check';
import { expect, test } from 'vitest';
import { linearRegression } from '#domain/stats/linear-regression.ts';
import { mean, variance } from '#domain/stats/moments.ts';
import { studentT, studentTQuantile } from '#domain/stats/student-t.ts';
import { valueOf } from '../helpers/result.ts';

const seed = 20260402;
const value = fc.double({ min: -1000, max: 1000, noNaN: true });

test('a quantile put back gives its probability', () => {
  fc.assert(
    fc.property(fc.double({ min: 1e-6, max: 1 - 1e-6, noNaN: true }), fc.double({ min: 1, max: 500, noNaN: true }), (probability, freedom) => {
      expect(studentT(valueOf(studentTQuantile(probability, freedom)), freedom)).toBeCloseTo(probability, 10);
    }),
    { seed, numRuns: 200 },
  );
});

test('a quantile rises with the probability and mirrors at one half', () => {
  fc.assert(
    fc.property(fc.double({ min: 0.5, max: 0.99, noNaN: true }), fc.integer({ min: 1, max: 60 }), (probability, freedom) => {
      const at = valueOf(studentTQuantile(probability, freedom));
      expect(valueOf(studentTQuantile(probability + 0.005, freedom))).toBeGreaterThan(at);
      expect(valueOf(studentTQuantile(1 - probability, freedom))).toBeCloseTo(-at, 6);
    }),
    { seed, numRuns: 200 },
  );
});

test('points on a line give that line back', () => {
  fc.assert(
    fc.property(value, fc.double({ min: -50, max: 50, noNaN: true }), fc.uniqueArray(fc.integer({ min: -500, max: 500 }), { minLength: 2, maxLength: 20 }), (intercept, slope, xs) => {
      const line = valueOf(linearRegression(xs.map((x) => ({ x, y: intercept + slope * x }))));
      expect(line.slope).toBeCloseTo(slope, 8);
      expect(line.intercept).toBeCloseTo(intercept, 6);
      expect(line.residual).toBeLessThan(1e-8);
    }),
    { seed, numRuns: 200 },
  );
});

test('shifting changes the mean by as much and the variance not at all', () => {
  fc.assert(
    fc.property(fc.array(value, { minLength: 2, maxLength: 40 }), value, (values, shift) => {
      const shifted = values.map((v) => v + shift);
      expect(mean(shifted)).toBeCloseTo(mean(values) + shift, 8);
      expect(variance(shifted)).toBeCloseTo(variance(values), 5);
    }),
    { seed, numRuns: 200 },
  );
});
