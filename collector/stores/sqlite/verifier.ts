import type { DatabaseSync } from 'node:sqlite';
import { setImmediate } from 'node:timers/promises';
import { seriesId, type SeriesId } from '#domain/reading/reading.ts';
import type { Channel } from '#domain/reading/channel.ts';
import type { BlockCheck, BlockDigest, BlockFault } from '#domain/reading/sealing.ts';
import { decodeBlock, digestOf, type Block } from '../blocks/block.ts';
import { StoreFailure } from '../failure.ts';
import { firstRow, rows, type FirstRow, type Rows } from './rows.ts';
import { createTotals } from './verify-totals.ts';

type SeriesRow = readonly [number: number, probe: string | null, channel: Channel | null];
type BlockRow = readonly [id: number, from: number, to: number, part: number, first: number, last: number, count: number, sha256: string];

const keyOf = ({ series, from, to, part, count }: Omit<BlockDigest, 'sha256'>): string => `${series} ${from} ${to} ${part} ${count}`;

/**
 * Reads every block again through a connection of its own, which holds one unchanging state while it is on one series: sealing and
 * appending may go on. Each block is told, and then what stands about the series; at the end what the day seals name and was not met.
 * A file that SQLite itself finds damaged makes it throw.
 */
export async function* verifyBlocks(open: () => DatabaseSync, sealed: Iterable<BlockDigest> | null): AsyncGenerator<BlockCheck> {
  const expected = sealed === null ? null : new Map(Array.from(sealed, (digest) => [keyOf(digest), digest] as const));
  const database = open();
  try {
    // Blocks whose series is gone from the list of series are looked at too: they are somebody's readings.
    const selectSeries = rows(
      database,
      'SELECT number, probe, channel FROM (SELECT id AS number FROM series UNION SELECT series FROM block) LEFT JOIN series ON id = number ORDER BY probe, channel',
    ) as Rows<SeriesRow>;
    const selectBlocks = rows(
      database,
      'SELECT id, from_ms, to_ms, part, first_ms, last_ms, count, sha256 FROM block WHERE settled = 1 AND series = ? ORDER BY from_ms, part',
    ) as Rows<BlockRow>;
    const selectBytes = firstRow(database, 'SELECT bytes FROM block_bytes WHERE block = ?') as FirstRow<readonly [Uint8Array]>;
    const total = Number(database.prepare('SELECT count(*) AS count FROM block WHERE settled = 1').get()?.count);
    let checked = 0;

    for (const [number, probe, channel] of selectSeries()) {
      database.exec('BEGIN');
      const totals = createTotals(database, number);
      let before = { from: NaN, part: -1 };
      for (const row of selectBlocks(number)) {
        const [id, from, to, part, , , count, sha256] = row;
        const bytes = selectBytes(id)?.[0];
        const decoded = bytes === undefined ? null : decodeBlock(bytes);
        const block = decoded?.ok === true ? decoded.value : null;
        const series: SeriesId = probe !== null && channel !== null ? seriesId(probe, channel) : (block?.series ?? (`unknown-${number}/temperature`));
        const faults: BlockFault[] = [];
        if (bytes !== undefined && digestOf(bytes) !== sha256) faults.push('digest-wrong');
        if (block === null) faults.push('unreadable');
        else if (block.series !== series || probe === null || !isInPlace(block, row)) faults.push('misplaced');
        if (part !== (before.from === from ? before.part + 1 : 0)) faults.push('part-missing');
        before = { from, part };
        const key = keyOf({ series, from, to, part, count });
        const named = expected?.get(key);
        if (expected !== null && named === undefined) faults.push('not-in-seal');
        if (named !== undefined && named.sha256 !== sha256) faults.push('digest-not-sealed');
        expected?.delete(key);
        totals.add(block, count);
        checked += 1;
        for (const fault of faults.length === 0 ? [null] : faults) yield { series, from, to, part, fault, checked, total };
        await setImmediate();
      }
      if (probe !== null && channel !== null) {
        for (const { fault, from, to } of totals.faults()) yield { series: seriesId(probe, channel), from, to, part: null, fault, checked, total };
      }
      database.exec('COMMIT');
    }
    for (const { series, from, to, part } of expected?.values() ?? []) yield { series, from, to, part, fault: 'missing', checked, total };
    // Last, so that what can be named has been: an index that points elsewhere hides readings though every one of them is sound.
    for (const table of ['series', 'block', 'block_bytes', 'rollup_10min', 'rollup_6h']) {
      if (Object.values(database.prepare(`PRAGMA integrity_check(${table})`).get() ?? {})[0] !== 'ok') throw new StoreFailure('damaged');
    }
  } finally {
    database.close();
  }
}

const isInPlace = ({ from, to, part, columns }: Block, [, rowFrom, rowTo, rowPart, first, last, count]: BlockRow): boolean =>
  from === rowFrom && to === rowTo && part === rowPart && columns.times.length === count && columns.times.at(0) === first && columns.times.at(-1) === last;
