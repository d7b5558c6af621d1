import { describe, expect, it } from 'vitest';
import type { BatchDetail, Limit, Readings } from '#contract';
import { bandOf, marksOf } from '../../dashboard/charts/batch-marks.ts';
import { outsideDots, spreadOf, verticalReach, withGaps } from '../../dashboard/charts/chart-data.ts';

const readings = (over: Partial<Readings> = {}): Readings => ({
  channel: 'temperature', unit: 'Cel', level: '10min',
  points: [10, 20, 50, 60].map((t, index) => ({ t, mean: 20 + index, min: 19 + index, max: 21 + index, count: index + 1 })),
  gaps: [{ from: 25, to: 45 }], ...over,
});

describe('what the chart draws', () => {
  it('has a hole where nobody measured', () => {
    const dots = withGaps(readings(), ({ mean }) => mean);
    expect(dots.map(({ x }) => x)).toEqual([10, 20, 25, 50, 60]);
    expect(dots.map(({ y }) => Number.isNaN(y))).toEqual([false, false, true, false, false]);
    expect(withGaps(readings({ gaps: [] }), ({ mean }) => mean).some(({ y }) => Number.isNaN(y))).toBe(false);
  });

  it('shows only the extremes that broke a limit', () => {
    const outside = (low: number | null, high: number | null): number[] => outsideDots(readings({ gaps: [] }), { low, high }).map(({ y }) => y);
    expect(outside(null, 22.5)).toEqual([Number.NaN, Number.NaN, 23, 24]);
    expect(outside(19.5, null)).toEqual([19, Number.NaN, Number.NaN, Number.NaN]);
    // At the limit is not beyond it.
    expect(outside(19, 24)).toEqual([Number.NaN, Number.NaN, Number.NaN, Number.NaN]);
  });

  it('weighs the mean by the number of readings', () => {
    // (1 × 20 + 2 × 21 + 3 × 22 + 4 × 23) / 10 by hand; the mean of the means would be 21.5.
    expect(spreadOf(readings())).toEqual({ lowest: 19, highest: 24, mean: 22, count: 10 });
    expect(spreadOf(readings({ points: [] }))).toBeNull();
  });

  it('stretches to a limit that is near, and not to one that would flatten the line', () => {
    const reach = (low: number | null, high: number | null) => verticalReach({ readings: readings(), band: { low, high }, convert: (value) => value });
    // Readings lie between 19 and 24: 1.2 times that spread is 6.
    expect(reach(14, 25)).toMatchObject({ min: expect.closeTo(14 - 11 * 0.16, 6) as number, max: expect.closeTo(25 + 11 * 0.16, 6) as number });
    expect(reach(5, null).min).toBeGreaterThan(18);
    expect(verticalReach({ readings: readings({ points: [] }), band: { low: null, high: null }, convert: (value) => value })).toEqual({ min: 0, max: 1 });
  });

  it('takes the narrowest limits in force for its band, and leaves notes out', () => {
    const limit = (low: number | null, high: number | null, over: Partial<Limit> = {}) => ({ kind: 'range', quantity: 'temperature', low, high, priority: 'medium', ...over });
    const batch = { limits: [limit(null, 30), limit(null, 25), limit(5, null), limit(12, null), limit(null, 20, { priority: 'note' }), limit(null, 4.6, { quantity: 'ph' })] } as unknown as BatchDetail;
    expect(bandOf(batch, 'temperature')).toEqual({ low: 12, high: 25 });
    expect(bandOf(batch, 'ph')).toEqual({ low: null, high: 4.6 });
    expect(bandOf(null, 'temperature')).toEqual({ low: null, high: null });
  });

  it('marks changes and tastings that stand', () => {
    const entry = (kind: string, standing: boolean, body = {}) => ({ kind, standing, body, at: '2027-06-11T00:00:00Z' });
    const batch = { entries: [entry('brine-changed', true), entry('brine-changed', false), entry('tasted', true, { bitterness: 4 }), entry('skimmed', true)] } as unknown as BatchDetail;
    expect(marksOf(batch).map(({ kind, label }) => [kind, label])).toEqual([['change', ''], ['tasting', '4']]);
  });
});
