import type { DatabaseSync } from 'node:sqlite';
import { seriesId, seriesParts, type Reading, type SeriesId } from '#domain/reading/reading.ts';
import type { Channel } from '#domain/reading/channel.ts';
import { bucketStart, nextBucketStart, type Rollup } from '#domain/reading/rollup.ts';
import type { BlockDigest } from '#domain/reading/sealing.ts';
import { levelMs, type SeriesSummary, type Span } from '#domain/reading/store.ts';
import type { ViewSource } from '#domain/reading/view.ts';
import type { EpochMs } from '#domain/units/time.ts';
import { qualityCode, qualityOfCode } from './quality-code.ts';
import { rollupTables, type RollupRow } from './rollup-rows.ts';
import { createBlockReader, type BlockReader, type StoredBlock } from './block-reader.ts';
import { firstRow, rows, type FirstRow, type Rows } from './rows.ts';
import { countSealed, firstOf, firstSealed, inOrder, lastOf, lastSealed, type ReadingRow } from './sealed-rows.ts';

/**
 * Everything that is asked of the file; each answer comes from an index, and none writes. Readings may stand in rows or in blocks, and
 * move from one to the other: whoever asks does so in a transaction, so that none is met twice or missed.
 */
export interface SqliteReader extends ViewSource {
  readonly blocks: BlockReader;
  /** The number a series has in the file; null for one without readings. */
  seriesNumber(series: SeriesId): number | null;
  newest(series: SeriesId): Reading | null;
  newestOfAll(): ReadonlyMap<SeriesId, Reading>;
  recent(series: SeriesId, count: number, before: EpochMs): readonly Reading[];
  raw(series: SeriesId, span: Span, limit: number): readonly Reading[];
  summaries(): readonly SeriesSummary[];
  digests(day: Span): readonly BlockDigest[];
  firstUnsealed(from: EpochMs): EpochMs | null;
}

type SeriesRow = readonly [id: number, probe: string, channel: Channel, stored: number];

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
  const countSpan = firstRow(database, `SELECT count(*) FROM (${select('1', 'reading')} ${readingSpan} LIMIT ?)`) as FirstRow<readonly [number]>;
  const countWhole = firstRow(database, `${select('total(count)', rollupTables['6h'])} ${rollupSpan}`) as FirstRow<readonly [number]>;
  const selectRollups = {
    '10min': rows(database, `${select(rollupColumns, rollupTables['10min'])} ${rollupSpan} ORDER BY from_ms`) as Rows<RollupRow>,
    '6h': rows(database, `${select(rollupColumns, rollupTables['6h'])} ${rollupSpan} ORDER BY from_ms`) as Rows<RollupRow>,
  };

  const selectDigests = rows(
    database,
    'SELECT probe, channel, part, count, sha256 FROM block JOIN series ON series.id = block.series WHERE settled = 1 AND from_ms = ? AND to_ms = ? ORDER BY probe, channel, part',
  ) as Rows<readonly [probe: string, channel: Channel, part: number, count: number, sha256: string]>;
  const selectUnsealed = firstRow(
    database,
    'SELECT min((SELECT time_ms FROM reading WHERE series = id AND time_ms >= ? ORDER BY time_ms LIMIT 1)) FROM series',
  ) as FirstRow<readonly [number | null]>;

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
  const blocks = createBlockReader(database);
  /** Of a row and a block, the one that reaches further in a direction. */
  const newestOf = (number: number): ReadingRow | undefined => {
    const row = selectLast(number, end, 1)[0];
    const block: StoredBlock | undefined = blocks.newest(number);
    return block !== undefined && block.last > (row?.[0] ?? -Infinity) ? lastOf(blocks, block) : row;
  };
  const oldestOf = (number: number): ReadingRow | undefined => {
    const row = selectSpan(number, -end, end, 1)[0];
    const block: StoredBlock | undefined = blocks.oldest(number);
    return block !== undefined && block.first < (row?.[0] ?? Infinity) ? firstOf(blocks, block) : row;
  };
  const spanOf = (number: number, span: Span, limit: number): readonly ReadingRow[] =>
    inOrder(selectSpan(number, span.from, span.to, limit), firstSealed(blocks, number, span, limit)).slice(0, limit);
  const lastBefore = (number: number, before: EpochMs, count: number): readonly ReadingRow[] => {
    const last = selectLast(number, before, count).toReversed();
    const oldest = last[0]?.[0];
    // The ordinary question is about the last hours, which are in rows.
    if (count === 0 || (last.length === count && oldest !== undefined && oldest > (blocks.newest(number)?.last ?? -Infinity))) return last;
    return inOrder(last, lastSealed(blocks, number, before, count).toSorted(([one], [other]) => one - other)).slice(-count);
  };

  return {
    blocks,
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
      return number === null ? [] : lastBefore(number, before, limitOf(count)).map((row) => readingOf(series, row));
    },
    raw: (series, span, limit) => {
      const number = seriesNumber(series);
      return number === null ? [] : spanOf(number, span, limitOf(limit)).map((row) => readingOf(series, row));
    },
    summaries: () =>
      selectSeries().flatMap(([number, probe, channel, count]) => {
        const first = oldestOf(number);
        const last = newestOf(number);
        const series = seriesId(probe, channel);
        return first === undefined || last === undefined ? [] : [{ series, count, first: readingOf(series, first), last: readingOf(series, last) }];
      }),
    digests: ({ from, to }) => selectDigests(from, to).map(([probe, channel, part, count, sha256]) => ({ series: seriesId(probe, channel), from, to, part, count, sha256 })),
    firstUnsealed: (from) => selectUnsealed(from)?.[0] ?? null,

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
      if (whole > most) return most + 1;
      const sealed = countSealed(blocks, number, { from, to });
      return sealed > most ? most + 1 : sealed + (countSpan(number, from, to, most + 1)?.[0] ?? 0);
    },
    goodReadings: (series, span) => {
      const number = seriesNumber(series);
      const good = number === null ? [] : spanOf(number, span, end).filter(([, , quality]) => quality === qualityCode.good);
      return good.map(([at, value]) => ({ from: at, to: at, count: 1, sum: value, min: value, max: value }));
    },
    rollups: (series, level, { from, to }) => {
      const number = seriesNumber(series);
      return number === null ? [] : selectRollups[level](number, from, to).map(rollupOf);
    },
  };
};
