import { setTimeout as wait } from 'node:timers/promises';
import { fail, ok, type Result } from '#domain/result.ts';
import type { OutboxStore } from '#domain/reading/outbox.ts';
import type { Reading, SeriesId } from '#domain/reading/reading.ts';
import { dayMs, type EpochMs } from '#domain/units/time.ts';
import { StoreFailure } from '../failure.ts';
import { failureOf } from '../sqlite/failure-of.ts';
import { requireSeries, requireStorable } from '../storable.ts';
import type { InfluxAddress } from './address.ts';
import { createInfluxClient } from './client.ts';
import { findAtStart, newerFound } from './find-at-start.ts';
import { createOutbox } from './outbox.ts';
import { lookAtOutbox, openOutboxFile } from './outbox-file.ts';
import { createOutboxWriter, type StoredValues } from './outbox-writer.ts';
import { createInfluxReader } from './reader.ts';
import { startSender } from './sender.ts';
import { createStatements, earliestMs, latestMs } from './statements.ts';
import { askStoredValues } from './stored-values.ts';

export interface InfluxOptions {
  readonly address: InfluxAddress;
  readonly site: string;
  /** The outbox. */
  readonly file: string;
  /** For the process that only reads. */
  readonly readOnly?: boolean;
  /** More readings than this do not wait: further ones are not taken, and so not acknowledged. */
  readonly mostWaiting?: number;
  /** How long readings stay here after they were sent: what is now, and the last days, are told without InfluxDB. */
  readonly keepMs?: number;
  /** An InfluxDB that has not answered by then is away. */
  readonly answerWithinMs?: number;
  readonly random?: () => number;
  readonly pause?: (ms: number, ended: AbortSignal) => Promise<void>;
  readonly changed?: (trouble: string | null) => void;
}

export type InfluxOpenFailure = { readonly code: 'unreachable' | 'outbox-of-another' | 'no-outbox'; readonly message: string };

/** A month of ten probes that speak every five seconds, in some 300 MB. */
const usualMostWaiting = 5_000_000;
/** Enough to start the watch again from what is here. */
const usualKeepMs = 4 * dayMs;
const ordinaryPause = (ms: number, ended: AbortSignal): Promise<void> => wait(ms, undefined, { signal: ended }).catch(() => undefined);

/**
 * Readings in InfluxDB 1.x, with an outbox on this disk that may hold weeks of them while it is away. May import the domain and Node.
 */
export const openInfluxStore = async (options: InfluxOptions): Promise<Result<OutboxStore, InfluxOpenFailure>> => {
  const { address, site, file, readOnly = false, mostWaiting = usualMostWaiting, keepMs = usualKeepMs } = options;
  const end = new AbortController();
  const client = createInfluxClient(address, end.signal, options.answerWithinMs);
  const statements = createStatements(site);
  const target = { site, place: address.shown };

  const made = lookAtOutbox(file);
  const isOurs = made?.site === site && made.place === address.shown;
  if (readOnly && !isOurs) return fail({ code: 'no-outbox', message: `${file} is not there, or is for another store: start the collector with this --store, it makes the file.` });
  if (made !== null && !isOurs && made.place !== '' && made.waiting > 0) {
    return fail({ code: 'outbox-of-another', message: `${made.waiting} readings still wait in ${file} for ${made.place}, site ${made.site}. Start with that --store and --site once, so that they are sent.` });
  }
  // Needed only the first time: later, readings are taken in whether InfluxDB is there or not.
  const found = isOurs ? ok(null) : await findAtStart(client, statements, address);
  if (!found.ok) return found;

  const database = openOutboxFile(file, readOnly);
  const outbox = createOutbox(database);
  const reader = createInfluxReader({ database, outbox, client, statements });
  const writer = readOnly ? null : createOutboxWriter(database, outbox);
  const begun = found.value ?? (readOnly ? null : await newerFound(address, statements, outbox));
  if (begun !== null) writer?.begin(target, begun);
  writer?.offerAgain();

  /** Taking in and ticking off go one after the other, so that what is looked at stays while InfluxDB is asked about it. */
  let last: Promise<unknown> = Promise.resolve();
  const alone = <Value>(work: () => Value | Promise<Value>): Promise<Value> => {
    const mine = last.then(work);
    last = mine.catch(() => undefined);
    return mine;
  };
  const sender =
    writer === null
      ? null
      : startSender({ site, client, statements, writer, keepMs, random: options.random ?? Math.random, ended: end.signal, alone, pause: options.pause ?? ordinaryPause, changed: options.changed ?? (() => undefined) });
  sender?.wake();

  const answer = async <Value>(work: () => Value | Promise<Value>): Promise<Value> => {
    if (!database.isOpen) throw new StoreFailure('closed');
    try {
      return await work();
    } catch (error) {
      if (!database.isOpen) throw new StoreFailure('closed');
      throw failureOf(error) ?? error;
    }
  };

  /** Which of the readings InfluxDB may have already: older than what is here whole, and not here. */
  const unknownHere = (readings: readonly Reading[]): ReadonlyMap<SeriesId, ReadonlySet<EpochMs>> => {
    const asked = new Map<SeriesId, Set<EpochMs>>();
    for (const { series, at } of readings) {
      const known = outbox.known(series);
      if (known === null || at >= known.wholeFrom || at < known.first.at || outbox.valueAt(known.number, at) !== undefined) continue;
      asked.set(series, (asked.get(series) ?? new Set()).add(at));
    }
    return asked;
  };
  const storedOf = async (asked: ReadonlyMap<SeriesId, ReadonlySet<EpochMs>>): Promise<StoredValues | null> => {
    try {
      return sender?.trouble == null ? await askStoredValues(client, statements, asked) : null;
    } catch (error) {
      if (error instanceof StoreFailure && error.code === 'unreachable') return null;
      throw error;
    }
  };

  return ok({
    append: (readings) =>
      answer(() =>
        alone(async () => {
          if (!database.isOpen) throw new StoreFailure('closed');
          if (writer === null) throw new StoreFailure('read-only');
          requireStorable(readings);
          for (const { series, at } of readings) {
            requireSeries(series);
            if (at < earliestMs || at >= latestMs) throw new RangeError(`${at} is outside the times InfluxDB can keep`);
          }
          if (writer.count().waiting + readings.length > mostWaiting) throw new StoreFailure('outbox-full');
          const asked = unknownHere(readings);
          const outcome = writer.append(readings, asked, await storedOf(asked));
          sender?.wake();
          return outcome;
        }),
      ),
    latest: (series) => answer(() => reader.latest(series)),
    recent: (series, count, before) => answer(() => reader.recent(series, count, before)),
    raw: (series, span, limit) => answer(() => reader.raw(series, span, limit)),
    view: (segments, span, points) => answer(() => reader.view(segments, span, points)),
    summaries: () => answer(() => reader.summaries()),
    outbox: () => ({ ...(writer?.count() ?? { waiting: 0, refused: 0 }), mostWaiting, trouble: sender?.trouble ?? null, settledLate: sender?.settledLate ?? { duplicates: 0, conflicts: 0 } }),
    settled: () => answer(() => sender?.settled() ?? true),
    close: async () => {
      if (!database.isOpen) return;
      end.abort();
      await sender?.stop();
      await last;
      if (database.isOpen) database.close();
    },
  });
};
