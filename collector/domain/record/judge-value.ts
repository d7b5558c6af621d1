import type { LimitSide } from '../rules/alert.ts';
import type { Outcome } from './lot-record.ts';

/** What a limit is judged by. */
export interface Found {
  readonly side: LimitSide;
  readonly limit: number;
  /** The value furthest towards outside; null: nothing was measured. */
  readonly worst: number | null;
  readonly uncertainty: number;
  /** Why the instrument cannot bear an "inside"; null: it was checked as required. */
  readonly notUsable: string | null;
  /** Share of the time observed and the longest gap; null for single measurements. */
  readonly watched: { readonly share: number; readonly longestGapHours: number } | null;
}

/** Less of the time than this, or a longer gap, and nobody can say that it was inside all the time (assumptions). */
export const leastObserved = 0.95;
export const longestGapHours = 24;
/** 4.15 + 0.15 is a hair more than 4.30 in binary numbers; the reader meant 4.30. */
const rounding = 1e-9;

/**
 * Inside only where value and uncertainty together keep the limit; outside where the value itself breaks it; between the two nobody can say.
 *
 * Source: the decision rule with a guard band as wide as the expanded uncertainty (JCGM 106:2012, guarded acceptance), from memory.
 * What the instrument, or a gap, leaves open can make an inside unknown, never an outside.
 * Example: at most 4.30, found 4.08 ± 0.10: inside. Found 4.25 ± 0.10: unknown. Found 4.31: outside.
 */
export const judgeValue = ({ side, limit, worst, uncertainty, notUsable, watched }: Found): { readonly outcome: Outcome; readonly why: string | null } => {
  if (worst === null) return { outcome: 'unknown', why: 'not measured' };
  const beyond = side === 'high' ? worst - limit : limit - worst;
  if (beyond > rounding) return { outcome: 'outside', why: notUsable };
  if (beyond + uncertainty > rounding) return { outcome: 'unknown', why: 'too close to say' };
  if (notUsable !== null) return { outcome: 'unknown', why: notUsable };
  if (watched !== null && watched.share < leastObserved) return { outcome: 'unknown', why: `observed for less than ${leastObserved * 100} % of the time` };
  if (watched !== null && watched.longestGapHours > longestGapHours) return { outcome: 'unknown', why: `a gap longer than ${longestGapHours} h` };
  return { outcome: 'inside', why: null };
};
