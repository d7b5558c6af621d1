import { createWatch, type Watch } from '../../collector/watch/watch.ts';
import type { Reading, SeriesId } from '#domain/reading/reading.ts';
import { segmentsOfBatch } from '#domain/journal/placement.ts';
import { addValue, levelStart, meanOf, startRollup, type RollupDraft } from '#domain/reading/rollup.ts';
import type { EpochMs } from '#domain/units/time.ts';
import type { ShedBook } from './shed-book.ts';

/** How many of the last readings a restarted watch is given. */
const recentKept = 400;

/**
 * A watch wired to a journal and a store the way the collector wires it: what it says is written, what is written it follows,
 * what it judged is stored. Time is passed in.
 */
export interface WatchBench {
  readonly watch: Watch;
  read(...readings: readonly Reading[]): void;
  /** Readings that arrive together, later than they were taken. */
  arrive(readings: readonly Reading[], now: EpochMs): void;
  tick(now: EpochMs): void;
  /** The journal has grown by something a test wrote. */
  follow(now: EpochMs): void;
  /** The collector stops and starts again, from the journal and the store alone. */
  restart(now: EpochMs): void;
}

export const createWatchBench = (book: ShedBook, now: EpochMs, zone = 'Europe/Rome'): WatchBench => {
  const stored = new Map<SeriesId, Reading[]>();
  let time = now;
  const start = (): Watch => createWatch({ append: (drafts) => book.append(drafts, time), zone });
  let watch = start();
  watch.follow(book.shed, now);
  const arrive = (readings: readonly Reading[], at: EpochMs): void => {
    time = at;
    for (const reading of readings) {
      const kept = stored.get(reading.series) ?? [];
      if (!kept.some((other) => other.at === reading.at)) stored.set(reading.series, [...kept, reading].toSorted((one, other) => one.at - other.at));
    }
    watch.readings(readings, at);
    watch.follow(book.shed, at);
  };
  /** As a store keeps them: one step for each six hours of the epoch in which a probe watched the batch. */
  const sixHourMeans = (lot: string, at: EpochMs) => {
    const batch = book.shed.batches.get(lot);
    const segments = batch === undefined ? [] : segmentsOfBatch(book.shed, batch, 'temperature', { from: batch.startedAt, to: at + 1 });
    return segments.flatMap(({ series, from, to }) => {
      const rollups = new Map<EpochMs, RollupDraft>();
      for (const { at: readAt, value, quality } of stored.get(series) ?? []) {
        if (quality !== 'good' || readAt < from || readAt >= to) continue;
        const interval = levelStart(readAt, '6h');
        const rollup = rollups.get(interval) ?? startRollup(Math.max(interval, from));
        addValue(rollup, value);
        rollups.set(interval, rollup);
      }
      return [...rollups.values()].map((rollup) => ({ t: rollup.from, mean: meanOf(rollup), count: rollup.count }));
    });
  };
  return {
    get watch() {
      return watch;
    },
    arrive,
    read: (...readings) => {
      for (const reading of readings) arrive([reading], Math.max(time, reading.at));
    },
    tick: (at) => {
      time = at;
      watch.tick(at);
      watch.follow(book.shed, at);
    },
    follow: (at) => {
      time = at;
      watch.follow(book.shed, at);
    },
    restart: (at) => {
      time = at;
      watch = start();
      const latest = new Map([...stored].flatMap(([series, kept]) => kept.slice(-1).map((last) => [series, last] as const)));
      watch.restore({ shed: book.shed, latest, recent: (series) => (stored.get(series) ?? []).slice(-recentKept), sixHourMeans: (lot) => sixHourMeans(lot, at) }, at);
      watch.follow(book.shed, at);
    },
  };
};
