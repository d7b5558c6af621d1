import { compareGroup, comparePair, dayMs, type CompareGroup, type ComparePair, type CureCourse } from '#contract';
import { compareCurve } from '#domain/cure/compare-curve.ts';
import { fitCures } from '#domain/cure/cure-regression.ts';
import { valueOf } from './value-of.ts';

/** Invented groups and pairs in the shape the API answers; parsed by the contract, so that no test draws what the server cannot send. */
export type Made = readonly [temperatureC: number, days: number, gapDays?: number];

/** The synthetic six that lie near one Arrhenius line; no published cures with temperatures and days were found. */
export const six: readonly Made[] = [[12, 46], [14, 41], [16, 33], [18, 31], [21, 24], [24, 21]];

const start = Date.UTC(2026, 4, 3);
const iso = (day: number): string => new Date(start + day * dayMs).toISOString();
const lotOf = (index: number): string => `ST26-${'ABCDEFGHJ'[index] ?? 'Z'}${String(index)}`;

export const groupOf = (made: readonly Made[], over: Partial<CompareGroup> = {}): CompareGroup => {
  const cures = made.map(([temperatureC, days, gapDays], index) => ({
    lot: lotOf(index), drum: `barrel-${String(index)}`, variety: null, startedAt: iso(0), sweetAt: iso(days), days, bitterDays: gapDays === undefined ? null : days - gapDays, likelyDays: days - (gapDays ?? 0) / 2,
    temperatureC, measuredShare: 1,
  }));
  const fit = made.length === 0 ? null : valueOf(fitCures(made.map(([temperatureC, days, tastedEveryDays]) => ({ temperatureC, days, tastedEveryDays }))));
  const { interval: energyInterval, ...rest } = fit === null || fit.method === 'too-few' ? { interval: undefined, ...fit } : fit;
  return compareGroup.parse({
    cut: 'slit', style: 'changed-brine', maturity: 'green', cures, fit: fit === null ? null : { ...rest, ...(energyInterval && { energyInterval }) },
    interval: fit === null || fit.method === 'too-few' ? null : { kind: 'prediction of one more cure', level: 0.95, points: compareCurve(fit) }, leftOut: [], ...over,
  });
};

export const courseOf = (lot: string, over: Partial<CureCourse> = {}): CureCourse => ({
  lot, drum: 'barrel-1', variety: 'Picual', cut: 'slit', style: 'changed-brine', maturity: 'green', startedAt: iso(0), jarredDay: 31, end: { sweetAt: iso(30), days: 30, bitterDays: 27, likelyDays: 28.5 },
  temperatureC: 17, brineRatio: 1.5, changesToEnd: 4, temperature: Array.from({ length: 121 }, (_, i) => ({ day: i / 4, min: 16, mean: 17, max: 18 })), gaps: [],
  changes: [7, 14, 21, 28].map((day) => ({ day, fraction: 1 })), tastings: [{ day: 20, bitterness: 5 }, { day: 27, bitterness: 3 }, { day: 30, bitterness: 1 }], ...over,
});

export const pairOf = (first: Partial<CureCourse>, attribution: Partial<Exclude<ComparePair['attribution'], { unknown: string }>> = {}): ComparePair =>
  comparePair.parse({
    bitterness: 1, first: courseOf('ST26-A0', first), second: courseOf('ST26-B1'),
    attribution: {
      differenceDays: 10, parts: [{ factor: 'temperature', days: 4 }, { factor: 'changes', days: 0 }, { factor: 'cut', days: 0 }, { factor: 'maturity', days: 0 }, { factor: 'ratio', days: 0 }], unexplainedDays: 6,
      uncertaintyDays: 1.2, modelDays: { first: 32, second: 28 }, rateFactor: 1, priorShare: 0.1, basis: 'leaching model', ...attribution,
    },
  });
