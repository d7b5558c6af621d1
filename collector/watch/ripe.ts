import { settleRange } from '#domain/rules/range.ts';
import { silenceMessage } from '#domain/rules/message.ts';
import { announcedSilenceMs, leastSilenceMs, silentAt } from '#domain/rules/silence.ts';
import { minuteMs, type EpochMs } from '#domain/units/time.ts';
import { sayRange } from './announce.ts';
import { intervalOf, type SeriesWatch } from './series.ts';
import type { Slots } from './slot.ts';

/** Something that has come true by itself, at its own time and not at that of the tick that found it. */
export interface Ripe {
  readonly at: EpochMs;
  readonly kind: 'raised' | 'returned';
  readonly key: string;
  readonly say: () => void;
}

/** In the order of time; at one moment what begins comes before what ends, so that an alert handed over from probe to probe has no gap. */
export const sayInOrder = (ripe: readonly Ripe[]): void => {
  const order = ripe.toSorted((one, other) => one.at - other.at || (one.kind === other.kind ? 0 : one.kind === 'raised' ? -1 : 1) || (one.key < other.key ? -1 : 1));
  for (const { say } of order) say();
};

/** Delays of range conditions that have run out. */
export const ripeRanges = (watch: SeriesWatch, slots: Slots, now: EpochMs): Ripe[] =>
  watch.ranges.flatMap((member) => {
    if (member.condition.phase !== 'pending' && member.condition.phase !== 'leaving') return [];
    const { condition, events } = settleRange(member.condition, member.limit, now);
    member.condition = condition;
    return events.map((event) => ({ at: event.at, kind: event.kind, key: member.slot.key, say: () => sayRange(watch, member, event, slots) }));
  });

/** A series that has fallen silent. */
export const ripeSilence = (watch: SeriesWatch, slots: Slots, listeningSince: EpochMs, now: EpochMs): Ripe | null => {
  const { silence, last } = watch;
  if (silence === null || silence.raisedAt !== null || silence.limit.high === null) return null;
  const heard = Math.max(watch.heardAt ?? watch.placedFrom, watch.placedFrom);
  const leastMs = silence.limit.high * minuteMs;
  // Most series spoke a moment ago: their pace need not be worked out.
  if (now - heard < Math.min(leastSilenceMs, leastMs)) return null;
  const interval = intervalOf(watch);
  const at = Math.max(silentAt(heard, interval, listeningSince, leastMs), silence.knownFrom);
  if (now < at) return null;
  silence.raisedAt = at;
  const since = last === null || last.at < watch.placedFrom ? watch.placedFrom : last.at;
  const limitValue = Math.round(announcedSilenceMs(interval, leastMs) / minuteMs);
  const message = silenceMessage(watch.series, last === null ? null : at - last.at);
  const say = (): void => slots.raise(silence.slot, silence, { side: null, since, at, value: null, limitValue, unit: silence.limit.unit, message });
  return { at, kind: 'raised', key: silence.slot.key, say };
};
