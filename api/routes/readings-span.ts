import type { Readings } from '#contract';
import { channels, type Channel } from '#domain/reading/channel.ts';
import type { SeriesView, Span } from '#domain/reading/store.ts';
import type { EpochMs } from '#domain/units/time.ts';
import { ApiError } from '../errors.ts';

/** The stretch of time a query asks for; without a start it begins at `begin`, or so long before its end. */
export const askedSpan = (query: { readonly from?: string | undefined; readonly to?: string | undefined }, now: EpochMs, usualMs: number, begin?: EpochMs): Span => {
  const asked = { from: queryMs(query.from), to: queryMs(query.to) };
  if (asked.from !== undefined && asked.to !== undefined && asked.from > asked.to) throw new ApiError('bad-query', 'from: lies after to.', [{ path: 'from', message: 'lies after to' }]);
  // What lies ahead is no gap: the span ends now at the latest.
  const to = Math.min(asked.to ?? now + 1, now + 1);
  const from = asked.from ?? begin ?? to - usualMs;
  return { from, to: Math.max(from, to) };
};

export const readingsShape = (channel: Channel, view: SeriesView): Readings => ({ channel, unit: channels[channel].unit, level: view.level, points: [...view.points], gaps: [...view.gaps] });

const queryMs = (time: string | undefined): EpochMs | undefined => (time === undefined ? undefined : /^\d+$/.test(time) ? Number(time) : Date.parse(time));
