import { channels, type Channel } from '#domain/reading/channel.ts';
import { seriesParts, type Reading, type SeriesId, type Slug } from '#domain/reading/reading.ts';
import { noFault, type FaultCondition } from '#domain/rules/fault.ts';
import type { Limit } from '#domain/rules/limit.ts';
import { inside, type RangeCondition } from '#domain/rules/range.ts';
import { gapsLookedAt, isStale, usualIntervalMs } from '#domain/rules/silence.ts';
import type { EpochMs } from '#domain/units/time.ts';
import type { Slot } from './slot.ts';

/** One range limit over one series. */
export interface RangeMember {
  readonly kind: 'range';
  readonly slot: Slot;
  limit: Limit;
  condition: RangeCondition;
}

export interface SilenceMember {
  readonly kind: 'silence';
  readonly slot: Slot;
  limit: Limit;
  /** When the watch came to know that this series matters: an alert is never raised for a time before that. */
  readonly knownFrom: EpochMs;
  raisedAt: EpochMs | null;
}

export interface FaultMember {
  readonly kind: 'fault';
  readonly slot: Slot;
  limit: Limit;
  condition: FaultCondition;
}

/** All that is kept of one series: its last reading, the pace of the last few, and the conditions it drives. */
export interface SeriesWatch {
  readonly series: SeriesId;
  readonly probe: Slug;
  readonly channel: Channel;
  readonly quantity: string;
  readonly uncertainty: number;
  last: Reading | null;
  /** When it last gave a sign of life: the time of its last reading, or of its arrival if it came from a backlog. */
  heardAt: EpochMs | null;
  /** A ring of the times of the last readings. */
  readonly times: Float64Array;
  timesKept: number;
  announcedIntervalMs: number | null;
  drum: Slug | null;
  placedFrom: EpochMs;
  ranges: readonly RangeMember[];
  silence: SilenceMember | null;
  fault: FaultMember | null;
}

export const watchSeries = (series: SeriesId): SeriesWatch => {
  const { probe, channel } = seriesParts(series);
  const { quantity, uncertainty } = channels[channel];
  return {
    series, probe, channel, quantity, uncertainty,
    last: null, heardAt: null, times: new Float64Array(gapsLookedAt + 1), timesKept: 0, announcedIntervalMs: null,
    drum: null, placedFrom: 0, ranges: [], silence: null, fault: null,
  };
};

export const keepTime = (watch: SeriesWatch, at: EpochMs): void => {
  watch.times[watch.timesKept % watch.times.length] = at;
  watch.timesKept += 1;
};

export const intervalOf = (watch: SeriesWatch): number | null => {
  if (watch.announcedIntervalMs !== null) return watch.announcedIntervalMs;
  const size = watch.times.length;
  const start = Math.max(0, watch.timesKept - size);
  const times = Array.from({ length: watch.timesKept - start }, (_none, index) => watch.times[(start + index) % size] ?? 0);
  return usualIntervalMs(null, times);
};

/** The value of a series as long as it is current: good, from this placement, and not stale; null: unknown. */
export const currentValue = (watch: SeriesWatch, now: EpochMs): number | null => {
  const { last } = watch;
  if (last === null || last.quality !== 'good' || last.at < watch.placedFrom || isStale(last.at, intervalOf(watch), now)) return null;
  return last.value;
};

export const newRange = (slot: Slot, limit: Limit): RangeMember => ({ kind: 'range', slot, limit, condition: inside });
export const newFault = (slot: Slot, limit: Limit): FaultMember => ({ kind: 'fault', slot, limit, condition: noFault });
