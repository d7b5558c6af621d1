import type { DatabaseSync } from 'node:sqlite';
import { setImmediate } from 'node:timers/promises';
import { seriesId, type SeriesId } from '#domain/reading/reading.ts';
import type { Channel } from '#domain/reading/channel.ts';
import type { BlockDigest } from '#domain/reading/sealing.ts';
import type { Span } from '#domain/reading/store.ts';
import { decodeBlock, digestOf, encodeBlock, mostReadings, type Block } from '../blocks/block.ts';
import type { Columns } from '../blocks/columns.ts';
import { StoreFailure } from '../failure.ts';
import { longestDayMs } from './block-reader.ts';
import { firstRow, rows, type FirstRow, type Rows } from './rows.ts';
import { createRowColumns, sameColumns } from './seal-rows.ts';
import { inTransaction } from './transaction.ts';

/** What has just happened while a series is sealed; a process killed at any of them leaves nothing that repeating does not mend. */
export const sealSteps = ['rows-read', 'block-written', 'block-on-disk', 'block-compared', 'rows-removed', 'series-sealed'] as const;
export type SealStep = (typeof sealSteps)[number];

export interface SealerOptions {
  /** Opens the file once more: what this connection has just written it would answer from memory. */
  readonly openReadBack: () => DatabaseSync;
  readonly onStep?: (step: SealStep) => void;
}

/** Something else wrote between reading the rows and removing them; then the block is made anew, this often. */
const mostTries = 5;

/** Seals one day, a series at a time with a pause between, so that appends wait for one series at most. */
export const createSealer = (database: DatabaseSync, { openReadBack, onStep = () => {} }: SealerOptions): ((day: Span) => Promise<readonly BlockDigest[]>) => {
  const selectSeries = rows(
    database,
    'SELECT id, probe, channel FROM series WHERE EXISTS (SELECT 1 FROM reading WHERE series = id AND time_ms >= ? AND time_ms < ?) ORDER BY probe, channel',
  ) as Rows<readonly [number, string, Channel]>;
  const selectPart = firstRow(database, 'SELECT coalesce(max(part), -1) + 1 FROM block WHERE series = ? AND from_ms = ? AND settled = 1') as FirstRow<readonly [number]>;
  const insertBlock = database.prepare('INSERT INTO block (series, from_ms, to_ms, part, first_ms, last_ms, count, sha256) VALUES (?, ?, ?, ?, ?, ?, ?, ?)');
  const insertBytes = database.prepare('INSERT INTO block_bytes (block, bytes) VALUES (?, ?)');
  const dropBytes = database.prepare('DELETE FROM block_bytes WHERE block IN (SELECT id FROM block WHERE series = ? AND settled = 0)');
  const dropTries = database.prepare('DELETE FROM block WHERE series = ? AND settled = 0');
  const removeRows = database.prepare('DELETE FROM reading WHERE series = ? AND time_ms >= ? AND time_ms <= ?');
  const settle = database.prepare('UPDATE block SET settled = 1 WHERE id = ? AND sha256 = ? AND settled = 0');
  const rowColumns = createRowColumns(database);

  /** Writes a block that does not count yet, in place of what a killed process may have left. */
  const writeTry = (number: number, block: Block, bytes: Uint8Array, sha256: string): number =>
    inTransaction(database, 'IMMEDIATE', () => {
      dropBytes.run(number);
      dropTries.run(number);
      const { times } = block.columns;
      const { lastInsertRowid } = insertBlock.run(number, block.from, block.to, block.part, times.at(0) ?? 0, times.at(-1) ?? 0, times.length, sha256);
      insertBytes.run(lastInsertRowid, bytes);
      onStep('block-written');
      return Number(lastInsertRowid);
    });

  const readBack = (connection: DatabaseSync, id: number, sha256: string): Columns => {
    const bytes = connection.prepare('SELECT bytes FROM block_bytes WHERE block = ?').get(id)?.bytes;
    const block = bytes instanceof Uint8Array && digestOf(bytes) === sha256 ? decodeBlock(bytes) : null;
    if (block?.ok !== true) throw new StoreFailure('input-output');
    return block.value.columns;
  };

  /** True once the block counts and its rows are gone; false when the rows are no longer those it was made of. */
  const exchange = (number: number, id: number, sha256: string, columns: Columns): boolean =>
    inTransaction(database, 'IMMEDIATE', () => {
      const first = columns.times.at(0) ?? 0;
      const last = columns.times.at(-1) ?? 0;
      if (!sameColumns(rowColumns.read(number, { from: first, to: last + 1 }, mostReadings + 1), columns)) return false;
      if (settle.run(id, sha256).changes !== 1) return false;
      removeRows.run(number, first, last);
      onStep('rows-removed');
      return true;
    });

  const sealOnce = (connection: DatabaseSync, number: number, series: SeriesId, day: Span): BlockDigest | 'again' | null => {
    const columns = rowColumns.read(number, day, mostReadings);
    if (columns.times.length === 0) return null;
    onStep('rows-read');
    const block: Block = { series, from: day.from, to: day.to, part: selectPart(number, day.from)?.[0] ?? 0, columns };
    const bytes = encodeBlock(block);
    const sha256 = digestOf(bytes);
    const id = writeTry(number, block, bytes, sha256);
    onStep('block-on-disk');
    const written = readBack(connection, id, sha256);
    onStep('block-compared');
    if (!exchange(number, id, sha256, written)) return 'again';
    onStep('series-sealed');
    return { series, from: day.from, to: day.to, part: block.part, count: columns.times.length, sha256 };
  };

  return async (day) => {
    if (!Number.isSafeInteger(day.from) || !Number.isSafeInteger(day.to) || day.to <= day.from || day.to - day.from > longestDayMs) {
      throw new RangeError('a day to seal begins and ends at whole milliseconds, at most 48 hours apart');
    }
    const sealed: BlockDigest[] = [];
    const connection = openReadBack();
    try {
      for (const [number, probe, channel] of selectSeries(day.from, day.to)) {
        for (let tries = 0; ; ) {
          const written = sealOnce(connection, number, seriesId(probe, channel), day);
          if (written === null) break;
          if (written !== 'again') sealed.push(written);
          else if ((tries += 1) >= mostTries) throw new StoreFailure('locked');
        }
        await setImmediate();
        if (!database.isOpen) throw new StoreFailure('closed');
      }
    } finally {
      connection.close();
    }
    return sealed;
  };
};
