import type { Spread } from '../stats/triangular.ts';
import type { OutsideValidRange, ValidRange } from '../valid-range.ts';
import { findOutside, outsideValidRange } from '../valid-range.ts';
import { jarRange } from '../jar/jar-fill.ts';

/** What the next season is worked out from. Shares from 0 to 1, days whole or not. */
export interface SeasonPlanInput {
  readonly treesOn: number;
  readonly treesOff: number;
  /** Of one tree in its on year, and in its off year. */
  readonly onKg: Spread;
  readonly offKg: Spread;
  /** A good or bad year that all trees share; 1 is a usual one. */
  readonly year: Spread;
  readonly cullShare: Spread;
  /** What is left out when jars are filled. */
  readonly jarCullShare: number;
  readonly picks: number;
  readonly daysBetweenPicks: number;
  readonly drums: number;
  readonly drumL: number;
  /** From the pick to the jars. */
  readonly cureDays: Spread;
  readonly brinesPerDrum: number;
  readonly brinePercentWw: number;
  /** How many of the brines are plain water. */
  readonly waterChanges: number;
  readonly jarMl: number;
  readonly jarBrinePercentWw: number;
  /** The share of the jar brine that is vinegar: what the bench trial says. */
  readonly vinegarShare: number;
  readonly jarsPerStall: number;
  readonly daysBetweenStalls: number;
}

/** All of these are assumptions, to be replaced by the grower's own figures. */
export const seasonPlanDefaults: SeasonPlanInput = {
  treesOn: 8,
  treesOff: 6,
  onKg: { low: 12, likely: 18, high: 25 },
  offKg: { low: 3, likely: 7, high: 11 },
  year: { low: 0.7, likely: 1, high: 1.2 },
  cullShare: { low: 0.04, likely: 0.08, high: 0.15 },
  jarCullShare: 0.03,
  picks: 3,
  daysBetweenPicks: 14,
  drums: 6,
  drumL: 60,
  cureDays: { low: 25, likely: 38, high: 65 },
  brinesPerDrum: 10,
  brinePercentWw: 10,
  waterChanges: 0,
  jarMl: 720,
  jarBrinePercentWw: 8,
  vinegarShare: 0.2,
  jarsPerStall: 30,
  daysBetweenStalls: 7,
};

type FieldOf<Kind> = { [Field in keyof SeasonPlanInput]: SeasonPlanInput[Field] extends Kind ? Field : never }[keyof SeasonPlanInput];
export type PlanNumber = FieldOf<number>;
export type PlanSpread = FieldOf<Spread>;

export const planRanges: Readonly<Record<keyof SeasonPlanInput, ValidRange>> = {
  treesOn: { low: 0, high: 500, unit: 'trees' },
  treesOff: { low: 0, high: 500, unit: 'trees' },
  onKg: { low: 0, high: 500, unit: 'kg' },
  offKg: { low: 0, high: 500, unit: 'kg' },
  year: { low: 0, high: 3, unit: '' },
  cullShare: { low: 0, high: 0.9, unit: '' },
  jarCullShare: { low: 0, high: 0.9, unit: '' },
  picks: { low: 1, high: 20, unit: 'picks' },
  daysBetweenPicks: { low: 0, high: 60, unit: 'days' },
  drums: { low: 0, high: 200, unit: 'drums' },
  drumL: { low: 10, high: 1_000, unit: 'L' },
  cureDays: { low: 3, high: 400, unit: 'days' },
  brinesPerDrum: { low: 1, high: 100, unit: 'brines' },
  brinePercentWw: { low: 0, high: 26, unit: '% w/w' },
  waterChanges: { low: 0, high: 100, unit: 'changes' },
  jarMl: jarRange,
  jarBrinePercentWw: { low: 0, high: 26, unit: '% w/w' },
  vinegarShare: { low: 0, high: 1, unit: '' },
  jarsPerStall: { low: 1, high: 10_000, unit: 'jars' },
  daysBetweenStalls: { low: 1, high: 60, unit: 'days' },
};

export const planSpreads = ['onKg', 'offKg', 'year', 'cullShare', 'cureDays'] as const satisfies readonly PlanSpread[];
const counted = ['treesOn', 'treesOff', 'picks', 'drums', 'brinesPerDrum', 'waterChanges', 'jarsPerStall', 'daysBetweenStalls'] as const satisfies readonly PlanNumber[];

/** The first figure that makes no season, or null. */
export const findUnplannable = (input: SeasonPlanInput): { readonly ok: false; readonly error: OutsideValidRange } | null => {
  const values: Record<string, number> = {};
  const ranges: Record<string, ValidRange> = {};
  for (const field of Object.keys(planRanges) as (keyof SeasonPlanInput)[]) {
    const value = input[field];
    for (const [name, number] of typeof value === 'number' ? [[field, value] as const] : Object.entries(value).map(([part, each]) => [`${field}.${part}`, each as number] as const)) {
      values[name] = number;
      ranges[name] = planRanges[field];
    }
  }
  const outside = findOutside(values, ranges);
  if (outside !== null) return outside;
  for (const field of planSpreads) {
    const { low, likely, high } = input[field];
    if (low > likely || likely > high) return outsideValidRange(`${field}.likely`, `${field}.likely must lie between the least and the most`);
  }
  for (const field of counted) if (!Number.isInteger(input[field])) return outsideValidRange(field, `${field} must be a whole number`);
  if (input.treesOn + input.treesOff === 0) return outsideValidRange('treesOn', 'treesOn and treesOff together must be a tree or more');
  if (input.waterChanges > input.brinesPerDrum) return outsideValidRange('waterChanges', 'waterChanges must not be more than brinesPerDrum');
  return null;
};
