import type { DatabaseSync } from 'node:sqlite';
import type { Channel } from '#domain/reading/channel.ts';
import { seriesId, seriesParts, type Quality, type Reading, type SeriesId } from '#domain/reading/reading.ts';
import type { EpochMs } from '#domain/units/time.ts';
import { firstRow, rows, type FirstRow, type Rows } from '../sqlite/rows.ts';
import { stateOf } from './outbox-file.ts';

/** A series as the outbox knows it. */
export interface KnownSeries {
  readonly number: number;
  readonly series: SeriesId;
  readonly stored: number;
  /** From here on all of its readings are in the outbox. */
  readonly wholeFrom: EpochMs;
  readonly first: Reading;
  readonly last: Reading;
}

type ReadingRow = readonly [at: EpochMs, value: number, quality: Quality];
type SeriesRow = readonly [number, string, Channel, number, number, number, number, Quality, number, number, Quality];

/** What is asked of the outbox alone: it answers whether InfluxDB is there or not, and never waits. */
export interface Outbox {
  known(series: SeriesId): KnownSeries | null;
  all(): readonly KnownSeries[];
  valueAt(number: number, at: EpochMs): number | undefined;
  /** In order of time, at most `limit`. */
  between(known: KnownSeries, from: EpochMs, to: EpochMs, limit?: number): readonly Reading[];
  /** Newest first. */
  lastBefore(known: KnownSeries, before: EpochMs, from: EpochMs, count: number): readonly Reading[];
  /** Those that InfluxDB need not have, in order of time. */
  unsent(known: KnownSeries, from: EpochMs, to: EpochMs): readonly Reading[];
}

const columns = 'id, probe, channel, stored, whole_from_ms, first_ms, first_value, first_quality, last_ms, last_value, last_quality';

const knownOf = ([number, probe, channel, stored, wholeFrom, firstAt, firstValue, firstQuality, lastAt, lastValue, lastQuality]: SeriesRow): KnownSeries => {
  const series = seriesId(probe, channel);
  return {
    number,
    series,
    stored,
    wholeFrom,
    first: { series, at: firstAt, value: firstValue, quality: firstQuality },
    last: { series, at: lastAt, value: lastValue, quality: lastQuality },
  };
};

/** SQLite compares whole numbers exactly only within 64 bits. */
const bound = (at: EpochMs): number => Math.min(Math.max(at, Number.MIN_SAFE_INTEGER), Number.MAX_SAFE_INTEGER);

export const createOutbox = (database: DatabaseSync): Outbox => {
  const selectOne = firstRow(database, `SELECT ${columns} FROM series WHERE probe = ? AND channel = ?`) as FirstRow<SeriesRow>;
  const selectAll = rows(database, `SELECT ${columns} FROM series ORDER BY probe, channel`) as Rows<SeriesRow>;
  const selectValue = firstRow(database, 'SELECT value FROM reading WHERE series = ? AND time_ms = ?') as FirstRow<readonly [number]>;
  const span = 'SELECT time_ms, value, quality FROM reading WHERE series = ? AND time_ms >= ? AND time_ms < ?';
  const selectSpan = rows(database, `${span} ORDER BY time_ms LIMIT ?`) as Rows<ReadingRow>;
  const selectLast = rows(database, `${span} ORDER BY time_ms DESC LIMIT ?`) as Rows<ReadingRow>;
  const selectUnsent = rows(database, `${span} AND state <> ${stateOf.sent} ORDER BY time_ms`) as Rows<ReadingRow>;
  const readingsOf = (series: SeriesId, found: readonly ReadingRow[]): readonly Reading[] => found.map(([at, value, quality]) => ({ series, at, value, quality }));

  return {
    known: (series) => {
      const { probe, channel } = seriesParts(series);
      const row = selectOne(probe, channel);
      return row === undefined ? null : knownOf(row);
    },
    all: () => selectAll().map(knownOf),
    valueAt: (number, at) => selectValue(number, at)?.[0],
    between: ({ number, series }, from, to, limit = -1) => readingsOf(series, selectSpan(number, bound(from), bound(to), Number.isFinite(limit) ? limit : -1)),
    lastBefore: ({ number, series }, before, from, count) => readingsOf(series, selectLast(number, bound(from), bound(before), count)),
    unsent: ({ number, series }, from, to) => readingsOf(series, selectUnsent(number, bound(from), bound(to))),
  };
};
