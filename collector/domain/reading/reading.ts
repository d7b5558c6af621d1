import type { EpochMs } from '../units/time.ts';
import type { Channel } from './channel.ts';

/** Why a reading is not simply good. The value is kept as it came; only good readings count in limits and rollups. */
export const qualities = ['good', 'power-on', 'disconnected', 'blank-scratchpad', 'out-of-range', 'stuck', 'uncalibrated', 'clock-doubtful'] as const;
export type Quality = (typeof qualities)[number];

/** A slug given by people: lower-case letters, digits, dashes; 1 to 40 characters. */
export type Slug = string;
export const slugPattern = /^[a-z0-9](?:[a-z0-9-]{0,38}[a-z0-9])?$/;

/** One channel of one probe: the unit of storage. */
export type SeriesId = `${Slug}/${Channel}`;
export const seriesId = (probe: Slug, channel: Channel): SeriesId => `${probe}/${channel}`;
export const seriesParts = (series: SeriesId): { probe: Slug; channel: Channel } => {
  const cut = series.indexOf('/');
  return { probe: series.slice(0, cut), channel: series.slice(cut + 1) as Channel };
};

export interface Reading {
  readonly series: SeriesId;
  readonly at: EpochMs;
  /** In the unit of the channel. */
  readonly value: number;
  readonly quality: Quality;
}
