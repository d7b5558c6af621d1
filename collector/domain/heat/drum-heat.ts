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
  readonly helps: readonly Help[];
  /** Risk of the stage times the degrees past the limit: which drum to see to first. */
  readonly urgency: number;
}

/** How little holds back what should not grow (assumption): water nothing, a leach only salt, a ferment also acid. */
const stageRisk: Readonly<Record<Stage, number>> = { soak: 3, leach: 2, ferment: 1.5, hold: 1, jarred: 0, rest: 0, ready: 0 };

/** The first limit of temperature that the middle of the course crosses within the hours ahead, and what helps against it. */
export const drumHeat = ({ ahead, limits, stage, brineL, fruitKg }: HeatInput): DrumHeat => {
  const points = drumAhead(ahead);
  const crossing = firstCrossing(points, limits);
  if (crossing === null) return { points, crossing, helps: [], urgency: 0 };
  const helps = crossing.side === 'high' ? whatHelps({ ahead, points, crossing, limitC: crossing.limitC, brineL, fruitKg }) : [];
  return { points, crossing, helps, urgency: stageRisk[stage] * Math.abs(crossing.peakC - crossing.limitC) };
};

export const firstCrossing = (points: readonly AheadPoint[], limits: readonly Limit[]): DrumHeat['crossing'] => {
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
