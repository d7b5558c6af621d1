import { describe, expect, test } from 'vitest';
import { compareCurve } from '#domain/cure/compare-curve.ts';
import type { FinishedCure, FittedCures } from '#domain/cure/cure-regression.ts';
import { fitCures } from '#domain/cure/cure-regression.ts';
import { valueOf } from '../../helpers/value-of.ts';

const fitted = (cures: readonly FinishedCure[]): FittedCures => {
  const fit = valueOf(fitCures(cures));
  if (fit.method === 'too-few') throw new Error('too few cures for a test of the curve');
  return fit;
};
/** Synthetic, made to lie near one Arrhenius line: no published cures with temperatures and days were found. */
const synthetic = [[12, 46], [14, 41], [16, 33], [18, 31], [21, 24], [24, 21]].map(([temperatureC = 0, days = 0]) => ({ temperatureC, days }));
const curve = compareCurve(fitted(synthetic));
const at = (temperatureC: number) => curve.find((point) => point.temperatureC === temperatureC);

describe('the line through finished cures', () => {
  test('has the published days and interval at whole degrees', () => {
    expect(at(15)?.days).toBeCloseTo(37.15, 2);
    expect(at(20)?.low).toBeCloseTo(23.58, 2);
    expect(at(20)?.high).toBeCloseTo(29.86, 2);
    expect(at(28)).toMatchObject({ extrapolated: true });
  });

  test('runs five degrees past the cures, the last two marked as extrapolated', () => {
    expect([curve[0]?.temperatureC, curve.at(-1)?.temperatureC]).toEqual([7, 29]);
    expect(curve.filter(({ extrapolated }) => extrapolated).map(({ temperatureC }) => temperatureC)).toEqual([7, 8, 28, 29]);
  });

  test('never leaves the valid range', () => {
    const cold = compareCurve(fitted([1, 3, 5, 6].map((temperatureC) => ({ temperatureC, days: 200 - 20 * temperatureC }))));
    expect(cold[0]?.temperatureC).toBe(0);
  });

  test('by the shrunken slope turns about the middle of the cures, and hardly at all where the data are good', () => {
    for (const { days, shrunkenDays } of curve) expect(Math.abs(shrunkenDays / days - 1)).toBeLessThan(0.002);
    // Four scattered cures: the slope found is 90 or so, believed to be nearer 45.
    const scattered = fitted([[14, 40], [16, 52], [18, 22], [19, 26]].map(([temperatureC = 0, days = 0]) => ({ temperatureC, days })));
    expect(scattered.shrunkenKjPerMol).toBeLessThan(0.75 * scattered.activationEnergyKjPerMol);
    const points = compareCurve(scattered);
    const first = points[0];
    const last = points.at(-1);
    if (first === undefined || last === undefined) throw new Error('no curve');
    expect(first.shrunkenDays).toBeLessThan(first.days);
    expect(last.shrunkenDays).toBeGreaterThan(last.days);
    const middle = points.find(({ temperatureC }) => temperatureC === 17);
    expect((middle?.shrunkenDays ?? 0) / (middle?.days ?? 1)).toBeCloseTo(1, 1);
  });
});
