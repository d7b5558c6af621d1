import type { EpochMs } from '../units/time.ts';
import { secondMs } from '../units/time.ts';
import type { LimitSide } from './alert.ts';
import type { Limit } from './limit.ts';

/**
 * A range rule over one series: (condition, limit, value, time) → condition and what happened. Pure and O(1), so a replay of the same
 * readings tells the same story, and the times it tells are those of the readings, whenever somebody looked.
 *
 * Outside: value + uncertainty above `high`, or value - uncertainty below `low` (guard band). Inside again: past the limit by the
 * deadband. `pending` waits for the on-delay; `leaving` is inside again but not yet for the off-delay. A value holds until the next.
 */
export type RangeCondition =
  | { readonly phase: 'inside' }
  | { readonly phase: 'pending' | 'outside'; readonly side: LimitSide; readonly since: EpochMs; readonly peak: number }
  | { readonly phase: 'leaving'; readonly side: LimitSide; readonly since: EpochMs; readonly peak: number; readonly until: EpochMs };

/** `peak`: the worst value from `since` on; of a raised alert, up to when it was raised. */
export type RangeEvent =
  | { readonly kind: 'raised'; readonly side: LimitSide; readonly since: EpochMs; readonly at: EpochMs; readonly peak: number }
  | { readonly kind: 'returned'; readonly until: EpochMs; readonly at: EpochMs; readonly peak: number };

export interface RangeStep {
  readonly condition: RangeCondition;
  readonly events: readonly RangeEvent[];
}

export const inside: RangeCondition = { phase: 'inside' };
const nothing: readonly RangeEvent[] = [];

export const isAnnounced = (condition: RangeCondition): condition is Extract<RangeCondition, { phase: 'outside' | 'leaving' }> => condition.phase === 'outside' || condition.phase === 'leaving';

/** The side on which a value lies outside, if any. */
export const sideOf = (limit: Limit, uncertainty: number, value: number): LimitSide | null => {
  if (limit.high !== null && value + uncertainty > limit.high) return 'high';
  if (limit.low !== null && value - uncertainty < limit.low) return 'low';
  return null;
};

/** Whether a value that was outside on a side is inside again: past that limit by the deadband, and not outside on the other side. */
const isBack = (limit: Limit, uncertainty: number, side: LimitSide, value: number): boolean => {
  if (sideOf(limit, uncertainty, value) !== null) return false;
  if (side === 'high') return limit.high === null || value + uncertainty <= limit.high - limit.deadband;
  return limit.low === null || value - uncertainty >= limit.low + limit.deadband;
};

/** What has come true by a time with no new reading: a delay that has run out. */
export const settleRange = (condition: RangeCondition, limit: Limit, at: EpochMs): RangeStep => {
  if (condition.phase === 'pending') {
    const raisedAt = condition.since + limit.onDelayS * secondMs;
    if (at < raisedAt) return { condition, events: nothing };
    return { condition: { ...condition, phase: 'outside' }, events: [{ kind: 'raised', side: condition.side, since: condition.since, at: raisedAt, peak: condition.peak }] };
  }
  if (condition.phase === 'leaving') {
    const returnedAt = condition.until + limit.offDelayS * secondMs;
    if (at < returnedAt) return { condition, events: nothing };
    return { condition: inside, events: [{ kind: 'returned', until: condition.until, at: returnedAt, peak: condition.peak }] };
  }
  return { condition, events: nothing };
};

/** One more good reading. */
export const stepRange = (before: RangeCondition, limit: Limit, uncertainty: number, value: number, at: EpochMs): RangeStep => {
  const settled = settleRange(before, limit, at);
  const step = judge(settled.condition, limit, uncertainty, value, at);
  // A delay of nothing has run out at once.
  const after = settleRange(step, limit, at);
  if (settled.events.length === 0) return after;
  return after.events.length === 0 ? { condition: after.condition, events: settled.events } : { condition: after.condition, events: [...settled.events, ...after.events] };
};

const judge = (condition: RangeCondition, limit: Limit, uncertainty: number, value: number, at: EpochMs): RangeCondition => {
  if (condition.phase === 'inside') {
    const side = sideOf(limit, uncertainty, value);
    return side === null ? condition : { phase: 'pending', side, since: at, peak: value };
  }
  const { side, since } = condition;
  if (condition.phase === 'leaving') {
    if (sideOf(limit, uncertainty, value) === null) return condition;
    return { phase: 'outside', side, since, peak: worse(side, condition.peak, value) };
  }
  if (isBack(limit, uncertainty, side, value)) {
    // Gone before it was announced: nothing to return from.
    if (condition.phase === 'pending') return inside;
    return { phase: 'leaving', side, since, peak: condition.peak, until: at };
  }
  return { phase: condition.phase, side, since, peak: worse(side, condition.peak, value) };
};

export const worse = (side: LimitSide, one: number, other: number): number => (side === 'high' ? Math.max(one, other) : Math.min(one, other));

/**
 * The same condition under another limit: a change of limit is not a change of brine, so what no longer counts ends at once,
 * and what counts now begins now. Without a current value an announced condition stays: unknown is not inside.
 */
export const rejudgeRange = (condition: RangeCondition, limit: Limit, uncertainty: number, value: number | null, at: EpochMs): RangeStep => {
  if (condition.phase === 'inside' || condition.phase === 'pending') return value === null ? { condition: inside, events: nothing } : stepRange(inside, limit, uncertainty, value, at);
  const switchedOff = limit[condition.side] === null;
  if (value === null && !switchedOff) return { condition, events: nothing };
  if (value === null || isBack(limit, uncertainty, condition.side, value)) {
    return { condition: inside, events: [{ kind: 'returned', until: condition.phase === 'leaving' ? condition.until : at, at, peak: condition.peak }] };
  }
  return stepRange(condition, limit, uncertainty, value, at);
};
