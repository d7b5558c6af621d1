import { seriesParts, type Quality, type Reading, type SeriesId } from '#domain/reading/reading.ts';
import type { Rollup, RollupLevel } from '#domain/reading/rollup.ts';
import type { Span } from '#domain/reading/store.ts';
import type { EpochMs } from '#domain/units/time.ts';
import type { InfluxRow } from './client.ts';

/**
 * What is written to InfluxDB and asked of it. One measurement, `reading`: tags `site`, `probe`, `channel`, fields `value` (float) and
 * `quality` (string), time in milliseconds. Series and time are the key there as here: quality is a field and not a tag.
 * All names are slugs or of fixed lists, so nothing in these texts needs escaping.
 */
const measurement = 'reading';

/** InfluxDB keeps times as 64-bit nanoseconds. */
export const earliestMs = -9_223_372_036_854;
export const latestMs = 9_223_372_036_854;

export const lineOf = (site: string, { series, at, value, quality }: Reading): string => {
  const { probe, channel } = seriesParts(series);
  return `${measurement},channel=${channel},probe=${probe},site=${site} value=${value},quality="${quality}" ${at}`;
};

export const createStatements = (site: string) => {
  const where = (series: SeriesId, { from, to }: Span): string => {
    const { probe, channel } = seriesParts(series);
    return `WHERE site = '${site}' AND probe = '${probe}' AND channel = '${channel}' AND time >= ${bound(from)}ms AND time < ${bound(to)}ms`;
  };
  return {
    /** Oldest first. */
    first: (series: SeriesId, span: Span, limit: number) => `SELECT value, quality FROM ${measurement} ${where(series, span)} ORDER BY time ASC${limitOf(limit)}`,
    /** Newest first. */
    last: (series: SeriesId, span: Span, limit: number) => `SELECT value, quality FROM ${measurement} ${where(series, span)} ORDER BY time DESC${limitOf(limit)}`,
    count: (series: SeriesId, span: Span) => `SELECT count(value) FROM ${measurement} ${where(series, span)}`,
    /** Good readings only; intervals are counted from the epoch, as everywhere. */
    rollups: (series: SeriesId, level: RollupLevel, span: Span) =>
      `SELECT count(value), sum(value), min(value), max(value) FROM ${measurement} ${where(series, span)} AND quality = 'good' GROUP BY time(${level === '10min' ? '10m' : '6h'}) fill(none)`,
    /** Of every series of the site: its first reading, its last one, and how many there are. */
    known: () =>
      [`first(value), quality`, `last(value), quality`, `count(value)`].map((what) => `SELECT ${what} FROM ${measurement} WHERE site = '${site}' GROUP BY probe, channel`),
  };
};
export type Statements = ReturnType<typeof createStatements>;

const bound = (at: EpochMs): number => Math.ceil(Math.min(Math.max(at, earliestMs), latestMs));
const limitOf = (limit: number): string => (Number.isFinite(limit) ? ` LIMIT ${limit}` : '');

export const readingOfRow = (series: SeriesId, [at, value, quality]: InfluxRow): Reading => ({ series, at: Number(at), value: Number(value), quality: (quality ?? 'good') as Quality });
export const rollupOfRow = ([from, count, sum, min, max]: InfluxRow): Rollup => ({ from: Number(from), count: Number(count), sum: Number(sum), min: Number(min), max: Number(max) });
