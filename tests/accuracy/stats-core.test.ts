import * as reference from 'simple-statistics';
import { describe, expect, test } from 'vitest';
import { incompleteBeta, logGamma } from '#domain/stats/incomplete-beta.ts';
import { linearRegression } from '#domain/stats/linear-regression.ts';
import type { Line, Point } from '#domain/stats/linear-regression.ts';
import { mean, median, standardDeviation, variance } from '#domain/stats/moments.ts';
import { studentT, studentTQuantile } from '#domain/stats/student-t.ts';
import { checkAccuracy } from '../helpers/accuracy.ts';
import { cell, published } from '../helpers/published.ts';
import { expectOutside, valueOf } from '../helpers/result.ts';

const norris = published('stats-norris');
const points = norris.rows.map((row): Point => ({ x: cell(norris, row, 'x'), y: cell(norris, row, 'y') }));
const fitted = valueOf(linearRegression(points));
const turned = valueOf(linearRegression(points.map(({ x, y }) => ({ x: y, y: x }))));

test('all 36 observations of Norris are in the fit', () => {
  expect(points.length).toBe(36);
  expect(fitted.degreesOfFreedom).toBe(34);
});

checkAccuracy<keyof Line>({
  quantity: 'straight line through NIST StRD "Norris"', unit: '', source: 'certified values, NIST Statistical Reference Datasets', confidence: 'read in a second copy of the source',
  tolerance: 1e-9, relative: true, reason: 'certified to 15 digits; doubles on this data keep 10 to 13 of them',
  rows: [
    ['intercept', -0.262323073774029], ['interceptError', 0.232818234301152], ['slope', 1.00211681802045], ['slopeError', 0.429796848199937e-3],
    ['residual', 0.884796396144373], ['rSquared', 0.999993745883712], ['regressionSumOfSquares', 4255954.13232369], ['residualSumOfSquares', 26.6173985294224],
  ],
  actual: (statistic) => fitted[statistic],
  mistakes: {
    'x and y exchanged (the file lists y first)': (statistic) => turned[statistic],
    'residual divided by n instead of n - 2': (statistic) => (statistic === 'residual' ? Math.sqrt(fitted.residualSumOfSquares / 36) : fitted[statistic]),
  },
});

checkAccuracy<readonly [probability: number, degreesOfFreedom: number]>({
  quantity: "quantile of Student's t", unit: '', source: 'printed t tables (Abramowitz and Stegun table 26.10)', confidence: 'from memory',
  tolerance: 0.0006, reason: 'tables print three decimals',
  rows: [
    [[0.975, 1], 12.706], [[0.975, 2], 4.303], [[0.975, 3], 3.182], [[0.975, 5], 2.571], [[0.975, 10], 2.228], [[0.975, 30], 2.042], [[0.975, 120], 1.98],
    [[0.95, 4], 2.132], [[0.995, 6], 3.707], [[0.9, 8], 1.397], [[0.025, 10], -2.228],
  ],
  actual: ([probability, freedom]) => valueOf(studentTQuantile(probability, freedom)),
  mistakes: {
    'the normal distribution': ([probability]) => reference.probit(probability),
    'one-sided for two-sided': ([probability, freedom]) => valueOf(studentTQuantile(2 * probability - 1 > 0 ? 2 * probability - 1 : probability, freedom)),
    'n for n - 2': ([probability, freedom]) => valueOf(studentTQuantile(probability, freedom + 2)),
  },
});

checkAccuracy<readonly [t: number, freedom: number]>({
  quantity: "Student's t, closed forms", unit: '', source: 'Abramowitz and Stegun 26.7.3: one degree 1/2 + atan(t)/π, two degrees 1/2 + t/(2√(2 + t²))', confidence: 'computed from cited inputs by the cited equation',
  tolerance: 1e-13, reason: 'both sides are exact to rounding',
  rows: [-30, -2, -0.3, 0, 0.7, 3, 50].flatMap((t) => [[[t, 1], 0.5 + Math.atan(t) / Math.PI], [[t, 2], 0.5 + t / (2 * Math.sqrt(2 + t * t))]] as const),
  actual: ([t, freedom]) => studentT(t, freedom),
  mistakes: { 'both tails': ([t, freedom]) => 2 * studentT(t, freedom) - 1 },
});

checkAccuracy<readonly [x: number, a: number, b: number]>({
  quantity: 'incomplete beta function', unit: '', source: 'binomial sums (DLMF 8.17.5)', confidence: 'computed from cited inputs by the cited equation',
  tolerance: 1e-13, reason: 'exact to rounding', rows: [[[0.5, 2, 3], 0.6875], [[0.25, 1, 4], 1 - 0.75 ** 4], [[0.9, 3, 1], 0.729], [[0, 2, 2], 0], [[1, 2, 2], 1]],
  actual: ([x, a, b]) => incompleteBeta(x, a, b), mistakes: { 'a and b exchanged': ([x, a, b]) => incompleteBeta(x, b, a) },
});

checkAccuracy<number>({
  quantity: 'logarithm of the gamma function', unit: '', source: 'factorials and Γ(1/2) = √π', confidence: 'computed from cited inputs by the cited equation',
  tolerance: 1e-13, reason: 'exact to rounding', rows: [[0.5, Math.log(Math.PI) / 2], [1, 0], [5, Math.log(24)], [11, Math.log(3_628_800)], [1.5, Math.log(Math.PI) / 2 - Math.LN2]],
  actual: logGamma, mistakes: { 'Γ(n) = n!': (x) => logGamma(x + 1) },
});

describe('a second opinion: the npm package simple-statistics', () => {
  const ys = points.map(({ y }) => y);
  test('agrees on mean, variance, standard deviation and median', () => {
    expect(mean(ys)).toBeCloseTo(reference.mean(ys), 9);
    expect(variance(ys)).toBeCloseTo(reference.sampleVariance(ys), 6);
    expect(standardDeviation(ys)).toBeCloseTo(reference.sampleStandardDeviation(ys), 9);
    expect(median(ys)).toBe(reference.median(ys));
    expect(variance(ys)).not.toBeCloseTo(reference.variance(ys), 0);
  });
  test('agrees on the line', () => {
    const line = reference.linearRegression(points.map(({ x, y }) => [x, y]));
    expect(fitted.slope).toBeCloseTo(line.m, 10);
    expect(fitted.intercept).toBeCloseTo(line.b, 9);
    expect(fitted.rSquared).toBeCloseTo(reference.rSquared(points.map(({ x, y }) => [x, y]), reference.linearRegressionLine(line)), 10);
  });
  test('agrees on the logarithm of the gamma function', () => {
    for (const x of [0.5, 1, 2.5, 7, 20, 300]) expect(logGamma(x)).toBeCloseTo(reference.gammaln(x), 8);
  });
});

describe('awkward numbers', () => {
  test('a large common offset does not eat the variance (NIST StRD "NumAcc4" kind)', () => {
    const values = [10_000_000.2, ...Array.from({ length: 1000 }, (_, i) => 10_000_000 + (i % 2 === 0 ? 0.1 : 0.3))];
    expect(standardDeviation(values)).toBeCloseTo(0.1, 8);
    expect(mean(values)).toBeCloseTo(10_000_000.2, 8);
    const naive = (values.reduce((sum, v) => sum + v * v, 0) - values.reduce((sum, v) => sum + v, 0) ** 2 / values.length) / (values.length - 1);
    expect(Math.abs(naive - 0.01)).toBeGreaterThan(1e-4);
  });
  test('lines that cannot be drawn are refused by name', () => {
    expectOutside(linearRegression([]), 'points');
    expectOutside(linearRegression([{ x: 1, y: 1 }]), 'points');
    expectOutside(linearRegression([{ x: 3, y: 1 }, { x: 3, y: 2 }]), 'points');
    expectOutside(linearRegression([{ x: 1, y: 1 }, { x: 2, y: Number.NaN }]), 'points');
  });
  test('quantiles that do not exist are refused by name', () => {
    expectOutside(studentTQuantile(0, 5), 'probability');
    expectOutside(studentTQuantile(1, 5), 'probability');
    expectOutside(studentTQuantile(0.975, 0), 'degreesOfFreedom');
    expectOutside(studentTQuantile(Number.NaN, 5), 'probability');
  });
});
