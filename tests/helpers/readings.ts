import type { Quality, Reading, SeriesId } from '#domain/reading/reading.ts';
import type { EpochMs } from '#domain/units/time.ts';

/** Readings as tests need them: invented values at stated times. */
export const brine: SeriesId = 'north-1/temperature';
export const air: SeriesId = 'north-1/air-temperature';

/** A midnight that starts a six-hour interval. */
export const start: EpochMs = Date.UTC(2026, 4, 1);

export const reading = (at: EpochMs, value: number, series: SeriesId = brine, quality: Quality = 'good'): Reading => ({ series, at, value, quality });

/** Evenly spaced readings; values step by 1/16, the resolution of a common digital thermometer, so that sums are exact. */
export const evenly = (count: number, spacingMs: number, from: EpochMs = start, series: SeriesId = brine): readonly Reading[] =>
  Array.from({ length: count }, (_, index) => reading(from + index * spacingMs, 15 + ((index * 37) % 97) / 16, series));
