import { faultMessage, rangeMessage } from '#domain/rules/message.ts';
import { isFault } from '#domain/rules/fault.ts';
import type { RangeEvent } from '#domain/rules/range.ts';
import type { EpochMs } from '#domain/units/time.ts';
import type { FaultMember, RangeMember, SeriesWatch } from './series.ts';
import type { Slots } from './slot.ts';

/** What happened to a range condition, said as an alert. */
export const sayRange = (watch: SeriesWatch, member: RangeMember, event: RangeEvent, slots: Slots): void => {
  const { slot, limit } = member;
  if (event.kind === 'returned') return slots.clear(slot, member, event);
  const { side, since, at, peak: value } = event;
  const limitValue = side === 'high' ? limit.high : limit.low;
  return slots.raise(slot, member, { side, since, at, value, limitValue, unit: limit.unit, message: rangeMessage(limit, side, watch.channel, value, 'probe') });
};

/** Raises or returns the alert of a fault so that it says what the condition says. */
export const sayFault = (watch: SeriesWatch, member: FaultMember, at: EpochMs, value: number | null, slots: Slots): void => {
  const { slot, limit, condition } = member;
  const on = isFault(condition, limit.high ?? Number.POSITIVE_INFINITY);
  if (on && condition.quality !== 'good' && !slot.on.has(member)) {
    slots.raise(slot, member, { side: null, since: condition.since, at, value, limitValue: null, unit: limit.unit, message: faultMessage(watch.series, condition.quality) });
  } else if (!on && slot.on.has(member)) slots.clear(slot, member, { until: at, at, peak: null });
};
