import { hourMs, type EpochMs } from '../units/time.ts';
import { channels, type Channel } from './channel.ts';
import type { Reading } from './reading.ts';

/** A value as it may be shown: with age, quality and uncertainty, or absent with the reason. Never the last good number dressed as current. */
export type NowValue =
  | { readonly absent: 'no-probe' | 'no-reading' }
  | {
      readonly value: number;
      readonly unit: string;
      readonly at: EpochMs;
      readonly quality: string;
      readonly uncertainty: number;
      /** Change per hour over the last readings, null when too few or not good. */
      readonly trendPerHour: number | null;
      readonly source: 'probe' | 'person';
    };

export interface NowSources {
  readonly channel: Channel;
  /** Does a probe watch this channel at all? */
  readonly watched: boolean;
  /** The last readings of that probe, oldest first. */
  readonly recent: readonly Reading[];
  /** Older than this a probe's value is not current. */
  readonly staleAfterMs: number;
  /** The newest value measured by hand, if any. */
  readonly measured: { readonly value: number; readonly at: EpochMs } | null;
}

/** A value measured by hand says nothing about now for longer than this (assumption: brine measured twice a week). */
export const measuredStaleAfterMs = 4 * 24 * hourMs;

export const nowValue = ({ channel, watched, recent, staleAfterMs, measured }: NowSources, now: EpochMs): NowValue => {
  const last = recent.at(-1);
  const { unit, uncertainty } = channels[channel];
  if (measured !== null && (last === undefined || measured.at > last.at)) {
    return { value: measured.value, unit, at: measured.at, quality: now - measured.at > measuredStaleAfterMs ? 'stale' : 'good', uncertainty, trendPerHour: null, source: 'person' };
  }
  if (last === undefined) return { absent: watched ? 'no-reading' : 'no-probe' };
  const stale = now - last.at > staleAfterMs;
  const quality = last.quality !== 'good' ? last.quality : stale ? 'stale' : 'good';
  return { value: last.value, unit, at: last.at, quality, uncertainty, trendPerHour: quality === 'good' ? trendPerHour(recent) : null, source: 'probe' };
};

/** Slope of the least-squares line through the good readings, per hour; needs three over at least ten minutes. */
export const trendPerHour = (readings: readonly Reading[]): number | null => {
  const good = readings.filter(({ quality }) => quality === 'good');
  const first = good[0];
  const last = good.at(-1);
  if (first === undefined || last === undefined || good.length < 3 || last.at - first.at < hourMs / 6) return null;
  const hours = good.map(({ at }) => (at - first.at) / hourMs);
  const meanHours = hours.reduce((sum, hour) => sum + hour, 0) / good.length;
  const meanValue = good.reduce((sum, { value }) => sum + value, 0) / good.length;
  let covariance = 0;
  let variance = 0;
  good.forEach(({ value }, index) => {
    const offset = (hours[index] ?? 0) - meanHours;
    covariance += offset * (value - meanValue);
    variance += offset * offset;
  });
  return covariance / variance;
};
