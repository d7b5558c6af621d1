import type { Stage } from '../cure/batch.ts';
import type { LimitSide } from '../rules/alert.ts';
import type { Limit } from '../rules/limit.ts';
import { drumAhead, type AheadPoint, type DrumAheadInput } from './drum-ahead.ts';
import { limitCrossing, type LimitCrossing } from './limit-crossing.ts';
import { whatHelps, type Help } from './what-helps.ts';

export interface HeatInput {
  readonly ahead: DrumAheadInput;
  /** The limits that stand for the drum now. */
  readonly limits: readonly Limit[];
  readonly stage: Stage;
  readonly brineL: number;
  readonly fruitKg: number;
}

/** What is ahead of one drum. */
export interface DrumHeat {
  readonly points: readonly AheadPoint[];
  readonly crossing: (LimitCrossing & { readonly limit: Limit; readonly limitC: number; readonly side: LimitSide; readonly peakC: number }) | null;
  /** The worst limit it is past now, and when it comes back by itself; null hours: not within the time ahead. */
  readonly outside: { readonly limitC: number; readonly side: LimitSide; readonly backHours: number | null } | null;
  readonly helps: readonly Help[];
  /** Risk of the stage times the degrees past the limit: which drum to see to first. */
  readonly urgency: number;
}

/** How little holds back what should not grow (assumption): water nothing, a leach only salt, a ferment also acid. */
const stageRisk: Readonly<Record<Stage, number>> = { soak: 3, leach: 2, ferment: 1.5, hold: 1, jarred: 0, rest: 0, ready: 0 };

/** The first limit of temperature that the middle of the course crosses within the hours ahead, and what helps against it. */
export const drumHeat = ({ ahead, limits, stage, brineL, fruitKg }: HeatInput): DrumHeat => {
  const points = drumAhead(ahead);
  const outside = outsideNow(points, limits);
  const crossing = firstCrossing(points, limits);
  const urgencyOf = (limitC: number, peakC: number): number => stageRisk[stage] * Math.abs(peakC - limitC);
  // What is past already comes before what will be.
  if (outside !== null) {
    const now = { hours: 0, earliestHours: 0, latestHours: 0, plusMinusHours: 0 };
    const helps = outside.side === 'high' ? whatHelps({ ahead, points, crossing: now, limitC: outside.limitC, brineL, fruitKg }) : [];
    return { points, outside, crossing, helps, urgency: urgencyOf(outside.limitC, outside.side === 'high' ? Math.max(...points.map(({ temperatureC }) => temperatureC)) : Math.min(...points.map(({ temperatureC }) => temperatureC))) };
  }
  if (crossing === null) return { points, outside, crossing, helps: [], urgency: 0 };
  const helps = crossing.side === 'high' ? whatHelps({ ahead, points, crossing, limitC: crossing.limitC, brineL, fruitKg }) : [];
  return { points, outside, crossing, helps, urgency: urgencyOf(crossing.limitC, crossing.peakC) };
};

const outsideNow = (points: readonly AheadPoint[], limits: readonly Limit[]): DrumHeat['outside'] => {
  const now = points[0]?.temperatureC ?? Number.NaN;
  const passed = limits
    .filter(({ kind, quantity, priority }) => kind === 'range' && quantity === 'temperature' && priority !== 'note')
    .flatMap(({ high, low }) => [...(high !== null && now > high ? [{ limitC: high, side: 'high' as const }] : []), ...(low !== null && now < low ? [{ limitC: low, side: 'low' as const }] : [])]);
  // Of several on one side the furthest is the worst passed.
  const worst = passed.toSorted((one, other) => Math.abs(now - one.limitC) - Math.abs(now - other.limitC))[0];
  if (worst === undefined) return null;
  const back = points.find(({ temperatureC }) => (worst.side === 'high' ? temperatureC <= worst.limitC : temperatureC >= worst.limitC));
  return { ...worst, backHours: back?.hours ?? null };
};

const firstCrossing = (points: readonly AheadPoint[], limits: readonly Limit[]): DrumHeat['crossing'] => {
  let first: DrumHeat['crossing'] = null;
  for (const limit of limits) {
    if (limit.kind !== 'range' || limit.quantity !== 'temperature' || limit.priority === 'note') continue;
    for (const side of ['high', 'low'] as const) {
      const limitC = limit[side];
      const crossing = limitC === null ? null : limitCrossing(points, limitC, side);
      if (limitC === null || crossing === null || (first !== null && first.hours <= crossing.hours)) continue;
      const values = points.filter(({ hours }) => hours >= crossing.hours).map(({ temperatureC }) => temperatureC);
      first = { ...crossing, limit, limitC, side, peakC: side === 'high' ? Math.max(...values) : Math.min(...values) };
    }
  }
  return first;
};
