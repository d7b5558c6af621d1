import { hourMs, type EpochMs } from '../units/time.ts';
import { channels, type Channel } from './channel.ts';
import type { Reading } from './reading.ts';
import type { Point } from './store.ts';

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
  readonly trendPerHour: number | null;
  /** The newest value measured by hand, if any. */
  readonly measured: { readonly value: number; readonly at: EpochMs } | null;
}

/**
 * A value measured by hand says nothing about now for longer than this (assumption): a temperature is read morning and evening, and from
 * one evening to the next morning are fourteen hours; brine is measured twice a week.
 */
export const measuredStaleAfterMs = (channel: Channel): number => (channels[channel].unit === 'Cel' ? 16 * hourMs : 4 * 24 * hourMs);

export const nowValue = ({ channel, watched, recent, staleAfterMs, measured, trendPerHour }: NowSources, now: EpochMs): NowValue => {
  const last = recent.at(-1);
  const { unit, uncertainty } = channels[channel];
  if (measured !== null && (last === undefined || measured.at > last.at)) {
    return { value: measured.value, unit, at: measured.at, quality: now - measured.at > measuredStaleAfterMs(channel) ? 'stale' : 'good', uncertainty, trendPerHour: null, source: 'person' };
  }
  if (last === undefined) return { absent: watched ? 'no-reading' : 'no-probe' };
  const stale = now - last.at > staleAfterMs;
  const quality = last.quality !== 'good' ? last.quality : stale ? 'stale' : 'good';
  return { value: last.value, unit, at: last.at, quality, uncertainty, trendPerHour: quality === 'good' ? trendPerHour : null, source: 'probe' };
};

/** Slope of the least-squares line through points, per hour; null with fewer than three over at least twenty minutes. */
export const slopePerHour = (points: readonly Pick<Point, 't' | 'mean'>[]): number | null => {
  const first = points[0];
  const last = points.at(-1);
  if (first === undefined || last === undefined || points.length < 3 || last.t - first.t < hourMs / 3) return null;
  const hours = points.map(({ t }) => (t - first.t) / hourMs);
  const meanHours = hours.reduce((sum, hour) => sum + hour, 0) / points.length;
  const meanValue = points.reduce((sum, { mean }) => sum + mean, 0) / points.length;
  let covariance = 0;
  let variance = 0;
  points.forEach(({ mean }, index) => {
    const offset = (hours[index] ?? 0) - meanHours;
    covariance += offset * (mean - meanValue);
    variance += offset * offset;
  });
  return covariance / variance;
};
