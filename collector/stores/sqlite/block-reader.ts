import type { DatabaseSync } from 'node:sqlite';
import type { Span } from '#domain/reading/store.ts';
import { hourMs, type EpochMs } from '#domain/units/time.ts';
import { decodeBlock, digestOf } from '../blocks/block.ts';
import { BlockCache, type CacheCount } from '../blocks/block-cache.ts';
import type { Columns } from '../blocks/columns.ts';
import { lowerBound } from '../blocks/lower-bound.ts';
import { StoreFailure } from '../failure.ts';
import { firstRow, rows, type FirstRow, type Rows } from './rows.ts';

/** What stands about a settled block; `first` and `last` are the times of its readings. */
export interface StoredBlock {
  readonly id: number;
  readonly first: EpochMs;
  readonly last: EpochMs;
  readonly count: number;
  readonly sha256: string;
}

/** The sealed readings of a series, by its number. Blocks of one series may interleave in time, but no time stands in two. */
export interface BlockReader {
  /** Blocks with readings that may lie in a span, by their first reading. */
  within(series: number, span: Span): readonly StoredBlock[];
  oldest(series: number): StoredBlock | undefined;
  newest(series: number): StoredBlock | undefined;
  /** Throws a `StoreFailure` rather than answer from bytes that are not those written. */
  columns(block: StoredBlock): Columns;
  valueAt(series: number, at: EpochMs): number | undefined;
  readonly cached: CacheCount;
}

/** No day is longer: a local day has 25 hours at most, and whoever seals may cut a little differently. */
export const longestDayMs = 48 * hourMs;
/** A hundred days of one series read every ten seconds. */
const cacheBytes = 16 * 2 ** 20;

type BlockRow = readonly [id: number, first: number, last: number, count: number, sha256: string];
const blockOf = ([id, first, last, count, sha256]: BlockRow): StoredBlock => ({ id, first, last, count, sha256 });

export const createBlockReader = (database: DatabaseSync, mostCacheBytes: number = cacheBytes): BlockReader => {
  const select = 'SELECT id, first_ms, last_ms, count, sha256 FROM block WHERE settled = 1 AND series = ?';
  // No block reaches further than a day, so that the first reading finds it by an index.
  const selectWithin = rows(database, `${select} AND first_ms > ? AND first_ms < ? AND last_ms >= ? ORDER BY first_ms`) as Rows<BlockRow>;
  const selectOldest = firstRow(database, `${select} ORDER BY first_ms LIMIT 1`) as FirstRow<BlockRow>;
  const selectNewest = firstRow(database, `${select} ORDER BY last_ms DESC LIMIT 1`) as FirstRow<BlockRow>;
  const selectBytes = firstRow(database, 'SELECT bytes FROM block_bytes WHERE block = ?') as FirstRow<readonly [Uint8Array]>;
  const cache = new BlockCache(mostCacheBytes);

  const load = ({ id, sha256 }: StoredBlock): Columns => {
    const bytes = selectBytes(id)?.[0];
    if (bytes === undefined || digestOf(bytes) !== sha256) throw new StoreFailure('damaged');
    const block = decodeBlock(bytes);
    if (!block.ok) throw new StoreFailure('damaged', { cause: block.error });
    return block.value.columns;
  };
  const within = (series: number, { from, to }: Span) => selectWithin(series, from - longestDayMs, to, from).map(blockOf);
  const orNone = (row: BlockRow | undefined) => (row === undefined ? undefined : blockOf(row));
  const columns = (block: StoredBlock): Columns => cache.get(block.id, () => load(block));

  return {
    within,
    oldest: (series) => orNone(selectOldest(series)),
    newest: (series) => orNone(selectNewest(series)),
    columns,
    valueAt: (series, at) => {
      for (const block of within(series, { from: at, to: at + 1 })) {
        const { times, values } = columns(block);
        const index = lowerBound(times, at);
        if (times[index] === at) return values[index];
      }
      return undefined;
    },
    get cached() {
      return cache.count;
    },
  };
};
