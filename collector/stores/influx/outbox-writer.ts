import type { DatabaseSync } from 'node:sqlite';
import { seriesId, type Quality, type Reading, type SeriesId } from '#domain/reading/reading.ts';
import type { Channel } from '#domain/reading/channel.ts';
import { appended, type AppendOutcome } from '#domain/reading/store.ts';
import type { EpochMs } from '#domain/units/time.ts';
import { asStored, requireSeries } from '../storable.ts';
import { firstRow, rows, type FirstRow, type Rows } from '../sqlite/rows.ts';
import { inTransaction } from '../sqlite/transaction.ts';
import type { Outbox } from './outbox.ts';
import { stateOf, type OutboxTarget } from './outbox-file.ts';

/** A reading on its way, with the number of its series. */
export interface Waiting extends Reading {
  readonly number: number;
  readonly unsure: boolean;
}

/** What InfluxDB has at times that were asked about. */
export type StoredValues = ReadonlyMap<SeriesId, ReadonlyMap<EpochMs, number>>;

/** What InfluxDB knew of a series before the outbox was made. */
export interface FoundSeries {
  readonly first: Reading;
  readonly last: Reading;
  readonly count: number;
}

/** Everything that changes the outbox; each call is one transaction. */
export interface OutboxWriter {
  /** Begins anew with what InfluxDB has. What still waits is kept, to be looked up there before it is sent. */
  begin(target: OutboxTarget, found: readonly FoundSeries[]): void;
  /** `stored` is null where InfluxDB could not be asked about the times in `asked`. */
  append(readings: readonly Reading[], asked: ReadonlyMap<SeriesId, ReadonlySet<EpochMs>>, stored: StoredValues | null): AppendOutcome;
  waiting(most: number): readonly Waiting[];
  count(): { readonly waiting: number; readonly refused: number };
  /** InfluxDB has these. Readings older than `keepMs` before the newest of their series make room, once they are sent. */
  sent(readings: readonly Waiting[], keepMs: number): void;
  /** What was refused before is offered once more. */
  offerAgain(): void;
  /** InfluxDB will not take it; it stays here, is answered from here, and is tried again at the next start. */
  refused(reading: Waiting): void;
  /** InfluxDB had a value for its time before: the first value counts. */
  drop(readings: readonly Waiting[]): void;
}

export const createOutboxWriter = (database: DatabaseSync, outbox: Outbox): OutboxWriter => {
  const insertSeries = database.prepare(
    `INSERT INTO series (probe, channel, stored, whole_from_ms, first_ms, first_value, first_quality, last_ms, last_value, last_quality) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
  );
  const insertReading = database.prepare('INSERT INTO reading (series, time_ms, value, quality, state) VALUES (?, ?, ?, ?, ?)');
  const addStored = database.prepare('UPDATE series SET stored = stored + ? WHERE id = ?');
  const setFirst = database.prepare('UPDATE series SET first_ms = ?, first_value = ?, first_quality = ? WHERE id = ?');
  const setLast = database.prepare('UPDATE series SET last_ms = ?, last_value = ?, last_quality = ? WHERE id = ?');
  const setState = database.prepare('UPDATE reading SET state = ? WHERE series = ? AND time_ms = ?');
  const setWholeFrom = database.prepare('UPDATE series SET whole_from_ms = ? WHERE id = ?');
  const removeReading = database.prepare('DELETE FROM reading WHERE series = ? AND time_ms = ?');
  const removeSent = database.prepare(`DELETE FROM reading WHERE series = ? AND time_ms < ? AND state = ${stateOf.sent}`);
  const selectWaiting = rows(
    database,
    `SELECT series.id, probe, channel, time_ms, value, quality, state FROM reading INDEXED BY unsent JOIN series ON series.id = reading.series WHERE state < ${stateOf.sent} LIMIT ?`,
  ) as Rows<readonly [number, string, Channel, EpochMs, number, Quality, number]>;
  const countState = (condition: string) => Number(database.prepare(`SELECT count(*) AS count FROM reading WHERE ${condition}`).get()?.count);
  const counts = { waiting: countState(`state < ${stateOf.sent}`), refused: countState(`state <> ${stateOf.sent} AND state = ${stateOf.refused}`) };
  const firstUnsent = firstRow(database, `SELECT min(time_ms) FROM reading WHERE series = ? AND time_ms >= ? AND state < ${stateOf.sent}`) as FirstRow<readonly [EpochMs | null]>;
  const immediately = <Value>(work: () => Value): Value => inTransaction(database, 'IMMEDIATE', work);

  /** Numbers bound by `node:sqlite` are REAL, and a strict INTEGER column takes a whole one as the integer it is. */
  const addSeries = ({ first, last, count }: FoundSeries, wholeFrom: EpochMs): number => {
    const { probe, channel } = requireSeries(first.series);
    return Number(insertSeries.run(probe, channel, count, wholeFrom, first.at, first.value, first.quality, last.at, last.value, last.quality).lastInsertRowid);
  };

  const append: OutboxWriter['append'] = (readings, asked, stored) => {
    const outcome = immediately(() => insert(readings, asked, stored));
    counts.waiting += outcome.stored;
    return outcome;
  };
  const insert: OutboxWriter['append'] = (readings, asked, stored) => {
    const outcomes = new Uint8Array(readings.length);
    const tally = { stored: 0, duplicates: 0, conflicts: 0 };
    const ends = new Map<SeriesId, { number: number; stored: number; first: Reading; last: Reading }>();
    for (const [index, given] of readings.entries()) {
      const reading = asStored(given);
      const { series, at, value, quality } = reading;
      let end = ends.get(series);
      if (end === undefined) {
        const known = outbox.known(series);
        end =
          known === null
            ? { number: addSeries({ first: reading, last: reading, count: 0 }, Number.MIN_SAFE_INTEGER), stored: 0, first: reading, last: reading }
            : { number: known.number, stored: 0, first: known.first, last: known.last };
        ends.set(series, end);
      }
      const before = outbox.valueAt(end.number, at) ?? stored?.get(series)?.get(at);
      if (before !== undefined) {
        outcomes[index] = before === value ? appended.duplicate : appended.conflict;
        tally[before === value ? 'duplicates' : 'conflicts'] += 1;
        continue;
      }
      insertReading.run(end.number, at, value, quality, stored === null && asked.get(series)?.has(at) === true ? stateOf.unsure : stateOf.waiting);
      tally.stored += 1;
      end.stored += 1;
      if (at < end.first.at) end.first = reading;
      if (at > end.last.at) end.last = reading;
    }
    for (const { number, stored: more, first, last } of ends.values()) {
      addStored.run(more, number);
      setFirst.run(first.at, first.value, first.quality, number);
      setLast.run(last.at, last.value, last.quality, number);
    }
    return { outcomes, ...tally };
  };

  const makeRoom = (series: SeriesId, keepMs: number): void => {
    const known = outbox.known(series);
    if (known === null) return;
    const unsent = firstUnsent(known.number, known.wholeFrom)?.[0] ?? Infinity;
    const wholeFrom = Math.max(known.wholeFrom, Math.min(known.last.at - keepMs, unsent));
    if (wholeFrom > known.wholeFrom) setWholeFrom.run(wholeFrom, known.number);
    removeSent.run(known.number, wholeFrom);
  };

  return {
    begin: ({ site, place }, found) =>
      immediately(() => {
        const unsent = outbox.all().flatMap((known) => outbox.unsent(known, -Infinity, Infinity));
        database.exec('DELETE FROM target; DELETE FROM series; DELETE FROM reading');
        database.prepare('INSERT INTO target (site, place) VALUES (?, ?)').run(site, place);
        for (const each of found) addSeries(each, each.last.at + 1);
        const asked = new Map([...Map.groupBy(unsent, ({ series }) => series)].map(([series, readings]) => [series, new Set(readings.map(({ at }) => at))]));
        Object.assign(counts, { waiting: insert(unsent, asked, null).stored, refused: 0 });
      }),
    append,
    waiting: (most) => selectWaiting(most).map(([number, probe, channel, at, value, quality, state]) => ({ number, series: seriesId(probe, channel), at, value, quality, unsure: state === stateOf.unsure })),
    count: () => ({ ...counts }),
    sent: (readings, keepMs) => {
      immediately(() => {
        for (const { number, at } of readings) setState.run(stateOf.sent, number, at);
        for (const series of new Set(readings.map((reading) => reading.series))) makeRoom(series, keepMs);
      });
      counts.waiting -= readings.length;
    },
    offerAgain: () => {
      immediately(() => database.exec(`UPDATE reading SET state = ${stateOf.waiting} WHERE state = ${stateOf.refused} AND state <> ${stateOf.sent}`));
      counts.waiting += counts.refused;
      counts.refused = 0;
    },
    refused: ({ number, at }) => {
      immediately(() => setState.run(stateOf.refused, number, at));
      counts.waiting -= 1;
      counts.refused += 1;
    },
    drop: (readings) => {
      immediately(() => {
        for (const { number, at } of readings) {
          removeReading.run(number, at);
          addStored.run(-1, number);
        }
      });
      counts.waiting -= readings.length;
    },
  };
};
