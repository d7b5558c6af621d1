import type { DatabaseSync } from 'node:sqlite';
import { ok, type Result } from '#domain/result.ts';
import type { Reading, SeriesId } from '#domain/reading/reading.ts';
import type { SealingStore } from '#domain/reading/sealing.ts';
import { composeView } from '#domain/reading/view.ts';
import { StoreFailure } from '../failure.ts';
import { createAppender } from './appender.ts';
import { connect, connectAgain, type OpenFailure, type SqliteOptions } from './connection.ts';
import { failureOf } from './failure-of.ts';
import { createReader } from './reader.ts';
import { createSealer } from './sealer.ts';
import { inTransaction } from './transaction.ts';
import { verifyBlocks } from './verifier.ts';

/**
 * Readings in one SQLite file, `readings.db`: in rows, and, once a day is sealed, in blocks. One process writes; any number read it
 * through `readOnly` at the same time: the write-ahead log lets neither wait for the other. May import the domain and Node.
 */
export const openSqliteStore = (options: SqliteOptions): Result<SealingStore, OpenFailure> => {
  const opened = connect(options);
  if (!opened.ok) return opened;
  const database = opened.value;
  const reader = createReader(database);
  const openAgain = () => connectAgain(options);
  const appender = options.readOnly === true ? null : createAppender(database, reader);
  const seal = options.readOnly === true ? null : createSealer(database, { openReadBack: openAgain, ...(options.onSealStep && { onStep: options.onSealStep }) });

  /** Answers as a promise, whether the work succeeds or throws; what the machine did wrong gets its code. */
  const answer = async <Value>(work: () => Value | Promise<Value>): Promise<Value> => {
    if (!database.isOpen) throw new StoreFailure('closed');
    try {
      return await work();
    } catch (error) {
      throw failureOf(error) ?? error;
    }
  };
  /** Several queries over one unchanging state: readings that move from rows to a block meanwhile are met once. */
  const ask = async <Value>(work: () => Value): Promise<Value> => answer(() => inTransaction(database, 'DEFERRED', work));
  const newestOfAll = () => appender?.newest ?? reader.newestOfAll();
  const newest = (series: SeriesId) => (appender === null ? reader.newest(series) : (appender.newest.get(series) ?? null));

  return ok({
    append: (readings) =>
      answer(() => {
        if (appender === null) throw new StoreFailure('read-only');
        return appender.append(readings);
      }),
    latest: (series) =>
      ask(() => {
        if (series === undefined) return new Map(newestOfAll());
        const found = new Map<SeriesId, Reading>();
        for (const each of series) {
          const reading = newest(each);
          if (reading !== null) found.set(each, reading);
        }
        return found;
      }),
    recent: (series, count, before = Number.MAX_SAFE_INTEGER) => ask(() => reader.recent(series, count, before)),
    raw: (series, span, limit) => ask(() => reader.raw(series, span, limit)),
    view: (segments, span, points) => ask(() => composeView(reader, segments, span, points)),
    summaries: () => ask(() => reader.summaries()),
    seal: (day) =>
      answer(() => {
        if (seal === null) throw new StoreFailure('read-only');
        return seal(day);
      }),
    digests: (day) => ask(() => reader.digests(day)),
    firstUnsealed: (from) => ask(() => reader.firstUnsealed(from)),
    verifyBlocks: async function* (sealed) {
      if (!database.isOpen) throw new StoreFailure('closed');
      try {
        yield* verifyBlocks(openAgain, sealed ?? null);
      } catch (error) {
        throw failureOf(error) ?? error;
      }
    },
    close: async () => {
      if (!database.isOpen) return;
      if (appender !== null) settle(database);
      database.close();
    },
  });
};

/**
 * Moves everything from the write-ahead log into the file, which may then be copied alone; a reader that closes later cannot do it.
 * Where it does not succeed nothing is lost: the log is durable, and the next writer takes it in.
 */
const settle = (database: DatabaseSync): void => {
  try {
    database.exec('PRAGMA busy_timeout = 500; PRAGMA wal_checkpoint(TRUNCATE)');
  } catch {
    // The disk is full or locked.
  }
};
