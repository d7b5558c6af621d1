import type { Reading, SeriesId } from '#domain/reading/reading.ts';
import type { Shed } from '#domain/journal/shed.ts';
import type { Alert } from '#domain/rules/alert.ts';
import { stepFault, type FaultCondition, noFault } from '#domain/rules/fault.ts';
import type { Limit } from '#domain/rules/limit.ts';
import { inside, isAnnounced, settleRange, sideOf, stepRange, worse, type RangeCondition, type RangeEvent } from '#domain/rules/range.ts';
import type { EpochMs } from '#domain/units/time.ts';
import type { RestoredMean } from './foresee.ts';
import { isLasting } from './slot.ts';

/** What a watch starts from: the journal, and the last readings; never a scan of history. */
export interface Restored {
  readonly shed: Shed;
  readonly latest: ReadonlyMap<SeriesId, Reading>;
  /** The last readings of a series, oldest first: as many as span the longest delay, so that a running delay is found again. */
  readonly recent: (series: SeriesId) => readonly Reading[];
  /** Good readings of the last two days in steps of ten minutes, oldest first: what a forecast starts from. */
  readonly means?: (series: SeriesId) => readonly RestoredMean[];
  /** Good temperatures of a batch since its start, in steps of six hours: what its exposure starts from. */
  readonly sixHourMeans?: (lot: string) => readonly RestoredMean[];
  /** The span of good values since an excursion began, from rollups; without it the worst value is that of the recent readings. */
  readonly spanSince?: (series: SeriesId, since: EpochMs) => ValueSpan | null;
}

export interface ValueSpan {
  readonly min: number;
  readonly max: number;
}

export interface RangeTraces {
  /** The open alert of the slot, if any. */
  readonly alert: Alert | undefined;
  readonly limit: Limit;
  readonly uncertainty: number;
  /** The last readings of the series, oldest first. */
  readonly recent: readonly Reading[];
  /** Earlier readings tell nothing about this batch. */
  readonly from: EpochMs;
  readonly spanSince: (since: EpochMs) => ValueSpan | null;
}

export interface RestoredRange {
  /** This series was outside when last looked at, and is part of the alert. */
  readonly member: boolean;
  readonly condition: RangeCondition;
  /** What the journal does not yet know. */
  readonly event: RangeEvent | null;
}

/**
 * A range condition as it stood, from the open alert of the journal and the readings since. What came true between the last reading
 * and the last journal entry (a crash in between) comes out as the event it would have been, with the same times.
 */
export const restoreRange = (traces: RangeTraces, now: EpochMs): RestoredRange => {
  const { alert, limit, uncertainty, recent, from, spanSince } = traces;
  const excursion = alert?.excursions.at(-1);
  const member = alert !== undefined && isLasting(alert) && hadPart(alert, traces);
  const since = excursion?.from ?? alert?.raisedAt ?? from;
  const first = member ? since : Math.max(from, excursion?.to ?? from);
  let condition = member ? asItStood(alert, limit, spanSince) : inside;
  let event: RangeEvent | null = null;
  // Under a limit changed since, the readings of that time were judged by another: only what is current can be judged anew.
  if (isAnnounced(condition) && alert?.limit.value !== limit[condition.side]) return { member, condition, event };
  for (const { at, value, quality } of recent) {
    if (quality !== 'good' || at < first) continue;
    const step = stepRange(condition, limit, uncertainty, value, at);
    condition = step.condition;
    event = step.events.at(-1) ?? event;
  }
  // A delay may have run out since; an excursion that is over is not to be told as one that lasts.
  const settled = settleRange(condition, limit, now);
  condition = settled.condition;
  event = settled.events.at(-1) ?? event;
  return { member, condition, event: isAnnounced(condition) === member ? null : event };
};

/** Whether this series, of several on one drum, saw the excursion of an alert; when its readings do not reach back that far, it may have. */
const hadPart = (alert: Alert, { limit, uncertainty, recent }: RangeTraces): boolean => {
  const since = alert.excursions.at(-1)?.from ?? alert.since;
  const before = recent.findLastIndex(({ at, quality }) => at <= since && quality === 'good');
  if (before === -1) return true;
  const asRaised: Limit = { ...limit, low: alert.limit.side === 'low' ? alert.limit.value : null, high: alert.limit.side === 'high' ? alert.limit.value : null };
  return recent.slice(before).some(({ value, quality }) => quality === 'good' && sideOf(asRaised, uncertainty, value) !== null);
};

const asItStood = (alert: Alert, limit: Limit, spanSince: (since: EpochMs) => ValueSpan | null): RangeCondition => {
  const side = alert.limit.side ?? (limit.low === null ? 'high' : 'low');
  const value = alert.value ?? Number.NaN;
  const excursion = alert.excursions.at(-1);
  const since = excursion?.from ?? alert.since;
  const span = spanSince(since);
  const told = worse(side, excursion?.peak ?? value, value);
  return { phase: 'outside', side, since, peak: span === null ? told : worse(side, told, side === 'high' ? span.max : span.min) };
};

/** The run of bad readings at the end, with the journal's alert for what lies further back. */
export const restoreFault = (alert: Alert | undefined, limit: Limit, recent: readonly Reading[], from: EpochMs): FaultCondition => {
  const lasting = alert !== undefined && isLasting(alert);
  const since = alert?.excursions.at(-1)?.from ?? from;
  let condition: FaultCondition = lasting ? { inARow: (limit.high ?? 0) + 1, since, quality: 'disconnected' } : noFault;
  for (const { at, quality } of recent) if (at >= (lasting ? since : from)) condition = stepFault(condition, quality, at);
  return condition;
};
