import type { DatabaseSync } from 'node:sqlite';
import { ok, type Result } from '#domain/result.ts';
import type { Reading, SeriesId } from '#domain/reading/reading.ts';
import type { ReadingStore } from '#domain/reading/store.ts';
import { composeView } from '#domain/reading/view.ts';
import { StoreFailure } from '../failure.ts';
import { createAppender } from './appender.ts';
import { connect, type OpenFailure, type SqliteOptions } from './connection.ts';
import { failureOf } from './failure-of.ts';
import { createReader } from './reader.ts';
import { inTransaction } from './transaction.ts';

/**
 * Readings in one SQLite file, `readings.db`. One process writes; any number read it through `readOnly` at the same time: the
 * write-ahead log lets neither wait for the other. May import the domain and Node.
 */
export const openSqliteStore = (options: SqliteOptions): Result<ReadingStore, OpenFailure> => {
  const opened = connect(options);
  if (!opened.ok) return opened;
  const database = opened.value;
  const reader = createReader(database);
  const appender = options.readOnly === true ? null : createAppender(database, reader);

  /** Answers as a promise, whether the work succeeds or throws; what the machine did wrong gets its code. */
  const answer = async <Value>(work: () => Value): Promise<Value> => {
    if (!database.isOpen) throw new StoreFailure('closed');
    try {
      return work();
    } catch (error) {
      throw failureOf(error) ?? error;
    }
  };
  const newestOfAll = () => appender?.newest ?? reader.newestOfAll();
  const newest = (series: SeriesId) => (appender === null ? reader.newest(series) : (appender.newest.get(series) ?? null));

  return ok({
    append: (readings) =>
      answer(() => {
        if (appender === null) throw new StoreFailure('read-only');
        return appender.append(readings);
      }),
    latest: (series) => answer(() => {
      if (series === undefined) return new Map(newestOfAll());
      const found = new Map<SeriesId, Reading>();
      for (const each of series) {
        const reading = newest(each);
        if (reading !== null) found.set(each, reading);
      }
      return found;
    }),
    recent: (series, count, before = Number.MAX_SAFE_INTEGER) => answer(() => reader.recent(series, count, before)),
    raw: (series, span, limit) => answer(() => reader.raw(series, span, limit)),
    // Several queries over one unchanging state, so that the counts they are planned by still hold when the rows are read.
    view: (segments, span, points) => answer(() => inTransaction(database, 'DEFERRED', () => composeView(reader, segments, span, points))),
    summaries: () => answer(() => inTransaction(database, 'DEFERRED', () => reader.summaries())),
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
