import type { DatabaseSync } from 'node:sqlite';
import type { Reading, SeriesId } from '#domain/reading/reading.ts';
import { addRollup, addValue, bucketStart, levelStart, startRollup, type RollupDraft } from '#domain/reading/rollup.ts';
import { appended, levelMs, type AppendOutcome } from '#domain/reading/store.ts';
import { asStored, requireSeries, requireStorable } from '../storable.ts';
import { qualityCode } from './quality-code.ts';
import type { SqliteReader } from './reader.ts';
import { firstRow, type FirstRow } from './rows.ts';
import { inTransaction } from './transaction.ts';

/** What one batch adds to a series; the rollups are put together here first, so that each row is written once a batch. */
interface SeriesBatch {
  readonly number: number;
  /** Only at or before this time can a reading stand in a block. */
  readonly sealedUntil: number;
  readonly tenMinutes: Map<number, RollupDraft>;
  current: RollupDraft;
  stored: number;
  newest: Reading | null;
}

export interface Appender {
  append(readings: readonly Reading[]): AppendOutcome;
  /** The newest reading of each series, whatever its quality. */
  readonly newest: ReadonlyMap<SeriesId, Reading>;
}

/** Writes batches, each one transaction: when `append` returns, every reading of it is on disk, or none is and it throws. */
export const createAppender = (database: DatabaseSync, reader: SqliteReader): Appender => {
  const insertSeries = database.prepare('INSERT INTO series (probe, channel) VALUES (?, ?)');
  const addStored = database.prepare('UPDATE series SET stored = stored + ? WHERE id = ?');
  // Without RETURNING: asking for the first value only where there was one keeps the ordinary reading at full speed.
  const insertReading = database.prepare('INSERT INTO reading (series, time_ms, value, quality) VALUES (?, ?, ?, ?) ON CONFLICT DO NOTHING');
  const selectValue = firstRow(database, 'SELECT value FROM reading WHERE series = ? AND time_ms = ?') as FirstRow<readonly [number]>;
  const upsertRollup = (table: string) =>
    database.prepare(
      `INSERT INTO ${table} (series, from_ms, count, sum, min, max) VALUES (?, ?, ?, ?, ?, ?)
       ON CONFLICT DO UPDATE SET count = count + excluded.count, sum = sum + excluded.sum, min = min(min, excluded.min), max = max(max, excluded.max)`,
    );
  const addTenMinutes = upsertRollup('rollup_10min');
  const addSixHours = upsertRollup('rollup_6h');
  const newest = new Map(reader.newestOfAll());

  const openSeries = (series: SeriesId): SeriesBatch => {
    const { probe, channel } = requireSeries(series);
    const number = reader.seriesNumber(series) ?? Number(insertSeries.run(probe, channel).lastInsertRowid);
    return { number, sealedUntil: reader.blocks.newest(number)?.last ?? -Infinity, tenMinutes: new Map(), current: startRollup(NaN), stored: 0, newest: null };
  };

  const addGood = (batch: SeriesBatch, at: number, value: number): void => {
    const from = bucketStart(at, levelMs['10min']);
    if (batch.current.from !== from) {
      batch.current = batch.tenMinutes.get(from) ?? startRollup(from);
      batch.tenMinutes.set(from, batch.current);
    }
    addValue(batch.current, value);
  };

  const writeSeries = (batch: SeriesBatch): void => {
    if (batch.stored > 0) addStored.run(batch.stored, batch.number);
    const sixHours = new Map<number, RollupDraft>();
    for (const rollup of batch.tenMinutes.values()) {
      addTenMinutes.run(batch.number, rollup.from, rollup.count, rollup.sum, rollup.min, rollup.max);
      const from = levelStart(rollup.from, '6h');
      const coarse = sixHours.get(from) ?? startRollup(from);
      addRollup(coarse, rollup);
      sixHours.set(from, coarse);
    }
    for (const rollup of sixHours.values()) addSixHours.run(batch.number, rollup.from, rollup.count, rollup.sum, rollup.min, rollup.max);
  };

  const append = (readings: readonly Reading[]): AppendOutcome => {
    requireStorable(readings);
    const outcomes = new Uint8Array(readings.length);
    const counts = { stored: 0, duplicates: 0, conflicts: 0 };
    const batches = new Map<SeriesId, SeriesBatch>();
    inTransaction(database, 'IMMEDIATE', () => {
      for (const [index, reading] of readings.entries()) {
        const { series, at, value, quality } = reading;
        let batch = batches.get(series);
        if (batch === undefined) batches.set(series, (batch = openSeries(series)));
        const sealed = at <= batch.sealedUntil ? reader.blocks.valueAt(batch.number, at) : undefined;
        if (sealed === undefined && insertReading.run(batch.number, at, value, qualityCode[quality]).changes === 1) {
          counts.stored += 1;
          batch.stored += 1;
          if (quality === 'good') addGood(batch, at, value);
          if (batch.newest === null || at > batch.newest.at) batch.newest = reading;
        } else if ((sealed ?? selectValue(batch.number, at)?.[0]) === value) {
          outcomes[index] = appended.duplicate;
          counts.duplicates += 1;
        } else {
          outcomes[index] = appended.conflict;
          counts.conflicts += 1;
        }
      }
      for (const batch of batches.values()) writeSeries(batch);
    });
    // Only now: a batch that was rolled back has left no trace here either.
    for (const [series, batch] of batches) {
      const known = newest.get(series);
      if (batch.newest !== null && (known === undefined || batch.newest.at > known.at)) newest.set(series, asStored(batch.newest));
    }
    return { outcomes, ...counts };
  };

  return { append, newest };
};
