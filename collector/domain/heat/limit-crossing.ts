import type { LimitSide } from '../rules/alert.ts';
import type { AheadPoint } from './drum-ahead.ts';

export interface LimitCrossing {
  readonly hours: number;
  /** When the warm (or cold) edge of the band crosses. */
  readonly earliestHours: number;
  /** When the other edge does; null: it may not be crossed at all. */
  readonly latestHours: number | null;
  /** Half of the spread: what stands behind ±. */
  readonly plusMinusHours: number;
}

/** When a predicted course crosses a limit, with the spread its band gives; null when its middle never does. One that starts outside has nothing to foretell. */
export const limitCrossing = (points: readonly AheadPoint[], limitC: number, side: LimitSide): LimitCrossing | null => {
  const hours = firstPast(points, limitC, side, (point) => point.temperatureC);
  if (hours === null || hours === 0) return null;
  const [near, far] = side === 'high' ? (['high', 'low'] as const) : (['low', 'high'] as const);
  const earliestHours = firstPast(points, limitC, side, (point) => point[near]) ?? hours;
  const latestHours = firstPast(points, limitC, side, (point) => point[far]);
  return { hours, earliestHours, latestHours, plusMinusHours: latestHours === null ? hours - earliestHours : (latestHours - earliestHours) / 2 };
};

/** Straight between points. */
const firstPast = (points: readonly AheadPoint[], limitC: number, side: LimitSide, of: (point: AheadPoint) => number): number | null => {
  const past = (value: number): boolean => (side === 'high' ? value > limitC : value < limitC);
  const index = points.findIndex((point) => past(of(point)));
  const after = points[index];
  if (after === undefined) return null;
  const before = points[index - 1];
  if (before === undefined) return after.hours;
  return before.hours + ((limitC - of(before)) / (of(after) - of(before))) * (after.hours - before.hours);
};
