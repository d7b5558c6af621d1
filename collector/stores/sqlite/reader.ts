import type { DatabaseSync } from 'node:sqlite';
import { seriesId, seriesParts, type Reading, type SeriesId } from '#domain/reading/reading.ts';
import type { Channel } from '#domain/reading/channel.ts';
import { bucketStart, nextBucketStart, type Rollup, type RollupLevel } from '#domain/reading/rollup.ts';
import { levelMs, type SeriesSummary, type Span } from '#domain/reading/store.ts';
import type { ViewSource } from '#domain/reading/view.ts';
import type { EpochMs } from '#domain/units/time.ts';
import { qualityCode, qualityOfCode } from './quality-code.ts';
import { firstRow, rows, type FirstRow, type Rows } from './rows.ts';

/** Everything that is asked of the file; each answer comes from an index, and none writes. */
export interface SqliteReader extends ViewSource {
  /** The number a series has in the file; null for one without readings. */
  seriesNumber(series: SeriesId): number | null;
  newest(series: SeriesId): Reading | null;
  newestOfAll(): ReadonlyMap<SeriesId, Reading>;
  recent(series: SeriesId, count: number, before: EpochMs): readonly Reading[];
  raw(series: SeriesId, span: Span, limit: number): readonly Reading[];
  summaries(): readonly SeriesSummary[];
}

type SeriesRow = readonly [id: number, probe: string, channel: Channel, stored: number];
type ReadingRow = readonly [timeMs: number, value: number, quality: number];
type RollupRow = readonly [fromMs: number, count: number, sum: number, min: number, max: number];

const tables = { '10min': 'rollup_10min', '6h': 'rollup_6h' } as const satisfies Record<RollupLevel, string>;

/** SQLite takes a negative limit for none. */
const limitOf = (count: number): number => Math.min(Math.max(0, Math.floor(count)), Number.MAX_SAFE_INTEGER);

const readingOf = (series: SeriesId, [at, value, quality]: ReadingRow): Reading => ({ series, at, value, quality: qualityOfCode(quality) });
const rollupOf = ([from, count, sum, min, max]: RollupRow): Rollup => ({ from, count, sum, min, max });

export const createReader = (database: DatabaseSync): SqliteReader => {
  const select = (columns: string, table: string) => `SELECT ${columns} FROM ${table} WHERE series = ?`;
  const readingColumns = 'time_ms, value, quality';
  const readingSpan = 'AND time_ms >= ? AND time_ms < ?';
  const rollupColumns = 'from_ms, count, sum, min, max';
  const rollupSpan = 'AND from_ms >= ? AND from_ms < ?';
  const selectNumber = firstRow(database, 'SELECT id FROM series WHERE probe = ? AND channel = ?') as FirstRow<readonly [number]>;
  const selectSeries = rows(database, 'SELECT id, probe, channel, stored FROM series ORDER BY probe, channel') as Rows<SeriesRow>;
  const selectLast = rows(database, `${select(readingColumns, 'reading')} AND time_ms < ? ORDER BY time_ms DESC LIMIT ?`) as Rows<ReadingRow>;
  const selectSpan = rows(database, `${select(readingColumns, 'reading')} ${readingSpan} ORDER BY time_ms LIMIT ?`) as Rows<ReadingRow>;
  const selectGood = rows(database, `${select('time_ms, value', 'reading')} ${readingSpan} AND quality = ${qualityCode.good} ORDER BY time_ms`) as Rows<readonly [number, number]>;
  const countSpan = firstRow(database, `SELECT count(*) FROM (${select('1', 'reading')} ${readingSpan} LIMIT ?)`) as FirstRow<readonly [number]>;
  const countWhole = firstRow(database, `${select('total(count)', tables['6h'])} ${rollupSpan}`) as FirstRow<readonly [number]>;
  const selectRollups = {
    '10min': rows(database, `${select(rollupColumns, tables['10min'])} ${rollupSpan} ORDER BY from_ms`) as Rows<RollupRow>,
    '6h': rows(database, `${select(rollupColumns, tables['6h'])} ${rollupSpan} ORDER BY from_ms`) as Rows<RollupRow>,
  };

  const numbers = new Map<SeriesId, number>();
  const seriesNumber = (series: SeriesId): number | null => {
    const known = numbers.get(series);
    if (known !== undefined) return known;
    const { probe, channel } = seriesParts(series);
    const found = selectNumber(probe, channel)?.[0];
    if (found !== undefined) numbers.set(series, found);
    return found ?? null;
  };

  const end = Number.MAX_SAFE_INTEGER;
  const newestOf = (number: number): ReadingRow | undefined => selectLast(number, end, 1)[0];
  const oldestOf = (number: number): ReadingRow | undefined => selectSpan(number, -end, end, 1)[0];

  return {
    seriesNumber,
    newest: (series) => {
      const number = seriesNumber(series);
      const row = number === null ? undefined : newestOf(number);
      return row === undefined ? null : readingOf(series, row);
    },
    newestOfAll: () => {
      const newest = new Map<SeriesId, Reading>();
      for (const [number, probe, channel] of selectSeries()) {
        const row = newestOf(number);
        const series = seriesId(probe, channel);
        if (row !== undefined) newest.set(series, readingOf(series, row));
      }
      return newest;
    },
    recent: (series, count, before) => {
      const number = seriesNumber(series);
      return number === null ? [] : selectLast(number, before, limitOf(count)).map((row) => readingOf(series, row)).toReversed();
    },
    raw: (series, { from, to }, limit) => {
      const number = seriesNumber(series);
      return number === null ? [] : selectSpan(number, from, to, limitOf(limit)).map((row) => readingOf(series, row));
    },
    summaries: () =>
      selectSeries().flatMap(([number, probe, channel, count]) => {
        const first = oldestOf(number);
        const last = newestOf(number);
        const series = seriesId(probe, channel);
        return first === undefined || last === undefined ? [] : [{ series, count, first: readingOf(series, first), last: readingOf(series, last) }];
      }),

    extent: (series) => {
      const number = seriesNumber(series);
      const first = number === null ? undefined : oldestOf(number);
      const last = number === null ? undefined : newestOf(number);
      return first === undefined || last === undefined ? null : { from: first[0], to: last[0] + 1 };
    },
    countReadings: (series, { from, to }, most) => {
      const number = seriesNumber(series);
      if (number === null) return 0;
      // The whole six-hour rows inside often say "too many" at a thousandth of the cost of counting.
      const whole = countWhole(number, nextBucketStart(from, levelMs['6h']), bucketStart(to, levelMs['6h']))?.[0] ?? 0;
      return whole > most ? most + 1 : (countSpan(number, from, to, most + 1)?.[0] ?? 0);
    },
    goodReadings: (series, { from, to }) => {
      const number = seriesNumber(series);
      return number === null ? [] : selectGood(number, from, to).map(([at, value]) => ({ from: at, to: at, count: 1, sum: value, min: value, max: value }));
    },
    rollups: (series, level, { from, to }) => {
      const number = seriesNumber(series);
      return number === null ? [] : selectRollups[level](number, from, to).map(rollupOf);
    },
  };
};
