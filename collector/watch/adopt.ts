import { stepFault } from '#domain/rules/fault.ts';
import type { Limit } from '#domain/rules/limit.ts';
import { isAnnounced, rejudgeRange } from '#domain/rules/range.ts';
import type { EpochMs } from '#domain/units/time.ts';
import { sayFault, sayRange } from './announce.ts';
import type { DrumWatch } from './drum.ts';
import { restoreFault, restoreRange, type Restored } from './restore.ts';
import { currentValue, newFault, newRange, type FaultMember, type RangeMember, type SeriesWatch, type SilenceMember } from './series.ts';
import { isLasting, type Slot, type Slots } from './slot.ts';

type Member = RangeMember | SilenceMember | FaultMember;

/** What came of fitting a series anew. */
export interface Adoption {
  /** What there is to say of its new members; said once every series of the drum has taken its place, so that none ends what another still sees. */
  readonly news: readonly (() => void)[];
  /** What it drove before and drives no more; ended once everything new has begun. */
  readonly left: readonly Member[];
}

/** Fits a series to the drum it watches now (null: none): members that still stand keep their condition, new ones begin. */
export const adoptSeries = (series: SeriesWatch, drum: DrumWatch | null, slots: Slots, restored: Restored | null, now: EpochMs): Adoption => {
  const before = membersOf(series);
  const batch = drum?.batch ?? null;
  if (drum === null || batch === null) {
    series.ranges = [];
    series.silence = null;
    series.fault = null;
    return { news: [], left: before };
  }
  const news: (() => void)[] = [];
  const fit: Fit = { series, slots, restored, now, news, from: Math.max(series.placedFrom, batch.stays.at(-1)?.from ?? batch.startedAt) };
  const own = drum.limits.filter(({ quantity }) => quantity === series.quantity);
  const slotOf = (limit: Limit): Slot => slots.slot(batch.drum, batch.lot, limit, limit.kind === 'range' ? null : series.probe);
  const silence = own.find(({ kind, high }) => kind === 'silence' && high !== null);
  const fault = own.find(({ kind, high }) => kind === 'fault' && high !== null);
  series.ranges = own.filter(({ kind, low, high }) => kind === 'range' && (low !== null || high !== null)).map((limit) => fitRange(fit, slotOf(limit), limit));
  series.silence = silence === undefined ? null : fitSilence(fit, slotOf(silence), silence);
  series.fault = fault === undefined ? null : fitFault(fit, slotOf(fault), fault);
  const kept = new Set(membersOf(series));
  return { news, left: before.filter((member) => !kept.has(member)) };
};

export const leaveSeries = (left: Adoption['left'], slots: Slots, now: EpochMs): void => {
  for (const member of left) {
    const range = member.kind === 'range' && isAnnounced(member.condition) ? member.condition : null;
    slots.clear(member.slot, member, { until: range?.phase === 'leaving' ? range.until : now, at: now, peak: range?.peak ?? null });
  }
};

const membersOf = ({ ranges, silence, fault }: SeriesWatch): Member[] => [...ranges, ...(silence === null ? [] : [silence]), ...(fault === null ? [] : [fault])];

interface Fit {
  readonly series: SeriesWatch;
  readonly slots: Slots;
  readonly restored: Restored | null;
  readonly now: EpochMs;
  readonly news: (() => void)[];
  /** Readings before this tell nothing about this batch: it was not begun, or lay in another drum. */
  readonly from: EpochMs;
}

const fitRange = (fit: Fit, slot: Slot, limit: Limit): RangeMember => {
  const { series, slots, restored, now, news, from } = fit;
  const old = series.ranges.find((member) => member.slot === slot);
  if (restored === null) {
    if (old !== undefined && isSame(old.limit, limit)) return old;
    const member = old ?? newRange(slot, limit);
    rejudge(member, limit, fit);
    return member;
  }
  const member = newRange(slot, limit);
  const alert = slots.openAlert(slot);
  const traces = { alert, limit, uncertainty: series.uncertainty, recent: restored.recent(series.series), from, spanSince: (since: EpochMs) => restored.spanSince?.(series.series, since) ?? null };
  const { member: hasPart, condition, event } = restoreRange(traces, now);
  if (hasPart) slot.on.add(member);
  member.condition = condition;
  if (event !== null) news.push(() => sayRange(series, member, event, slots));
  // The limit may have been changed while nobody watched.
  else if (isAnnounced(condition) && alert?.limit.value !== limit[condition.side]) rejudge(member, limit, fit);
  return member;
};

const rejudge = (member: RangeMember, limit: Limit, { series, slots, now, news, from }: Fit): void => {
  member.limit = limit;
  // A last reading from before the fruit came speaks of the empty drum.
  const value = series.last !== null && series.last.at < from ? null : currentValue(series, now);
  const { condition, events } = rejudgeRange(member.condition, limit, series.uncertainty, value, now);
  member.condition = condition;
  for (const event of events) news.push(() => sayRange(series, member, event, slots));
};

const isSame = (one: Limit, other: Limit): boolean =>
  one === other || (one.low === other.low && one.high === other.high && one.deadband === other.deadband && one.onDelayS === other.onDelayS && one.offDelayS === other.offDelayS);

const fitSilence = ({ series, slots, restored, now, news }: Fit, slot: Slot, limit: Limit): SilenceMember => {
  const old = series.silence;
  if (old !== null && old.slot === slot) {
    old.limit = limit;
    return old;
  }
  const member: SilenceMember = { kind: 'silence', slot, limit, knownFrom: restored === null ? now : Number.NEGATIVE_INFINITY, raisedAt: null };
  const alert = restored === null ? undefined : slots.openAlert(slot);
  if (alert === undefined || !isLasting(alert)) return member;
  slot.on.add(member);
  const spoke = series.last !== null && series.last.at > (alert.excursions.at(-1)?.from ?? alert.since) && series.last.at >= series.placedFrom ? series.last.at : null;
  if (spoke === null) member.raisedAt = alert.raisedAt;
  else news.push(() => slots.clear(slot, member, { until: spoke, at: Math.max(spoke, alert.raisedAt), peak: null }));
  return member;
};

const fitFault = ({ series, slots, restored, news, from }: Fit, slot: Slot, limit: Limit): FaultMember => {
  const old = series.fault;
  if (old !== null && old.slot === slot) {
    old.limit = limit;
    return old;
  }
  const member = newFault(slot, limit);
  const { last } = series;
  if (restored === null) {
    if (last !== null && last.at >= series.placedFrom) member.condition = stepFault(member.condition, last.quality, last.at);
    return member;
  }
  const alert = slots.openAlert(slot);
  if (alert !== undefined && isLasting(alert)) slot.on.add(member);
  member.condition = restoreFault(alert, limit, restored.recent(series.series), from);
  if (last !== null) news.push(() => sayFault(series, member, last.at, last.value, slots));
  return member;
};
