import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { setImmediate as nextTurn } from 'node:timers/promises';
import { lotCode } from '#domain/cure/lot-code.ts';
import type { Draft } from '#domain/journal/entry.ts';
import { projectAll } from '#domain/journal/project.ts';
import type { Reading, SeriesId } from '#domain/reading/reading.ts';
import type { ReadingStore } from '#domain/reading/store.ts';
import { hourMs, minuteMs, type EpochMs } from '#domain/units/time.ts';
import type { Clock } from './clock.ts';
import type { Config } from './config.ts';
import { buildDemoSeason, readingsBetween, startDemoPublisher, writeHistory, type DemoPublisher, type DemoSeason } from './demo/index.ts';
import type { Book } from './journal/book.ts';
import type { Log } from './log.ts';
import { createRecent } from './recent.ts';
import { createWatch } from './watch/watch.ts';

/** The demo shed as the pipeline sees it: weeks of history written once, then live readings by the real wire. */
export interface DemoShed {
  startPublishing(brokerUrl: string, log: Log): DemoPublisher;
}

interface DemoHistoryOptions {
  readonly config: Config;
  readonly book: Book;
  readonly store: Pick<ReadingStore, 'append'>;
  readonly clock: Clock;
  readonly progress: (fraction: number, text: string) => void;
}

export const writeDemoHistory = async ({ config, book, store, clock, progress }: DemoHistoryOptions): Promise<DemoShed> => {
  const isNew = book.lastSequence() === 0;
  const originFile = join(config.dataDirectory, 'demo-origin.json');
  // A demo started again goes on with the same simulated season: it is rebuilt from the moment it was first made for. One that was
  // stopped while its history was being written does the same: readings written twice are the same readings, and the journal comes last.
  if (isNew && !existsSync(originFile)) writeFileSync(originFile, JSON.stringify({ now: clock.now() }));
  const season = seasonAt(config, (JSON.parse(readFileSync(originFile, 'utf8')) as { now: number }).now);
  if (isNew) {
    await writeHistory({ season, appendReadings: async (batch) => void (await Promise.all([store.append(batch), nextTurn()])), appendEntries: async (entries) => void book.appendTimed(entries), progress });
    judgeLastDays(season, config, book);
  }
  return {
    startPublishing: (brokerUrl, log) => startDemoPublisher({ brokerUrl, site: config.site, season, clock, speed: config.speed, log: { info: () => {}, warn: (fields, message) => log.warn(fields, message) } }),
  };
};

const seasonAt = (config: Config, now: EpochMs): DemoSeason => {
  const lots = new Map<number, number>();
  return buildDemoSeason({
    now,
    zone: config.zone,
    lotFor: ({ startedAt }) => {
      const year = Temporal.Instant.fromEpochMilliseconds(startedAt).toZonedDateTimeISO(config.zone).year;
      const number = (lots.get(year) ?? 0) + 1;
      lots.set(year, number);
      return lotCode(config.site, year, number);
    },
  });
};

/** How far back the rules are run over the written history, so that alerts stand as if the collector had been there. */
const judgedMs = 30 * hourMs;

const judgeLastDays = (season: DemoSeason, config: Config, book: Book): void => {
  const from = season.now - judgedMs;
  let at = from;
  let written = 0;
  const watch = createWatch({
    zone: config.zone,
    append: (drafts: readonly Draft[]) => {
      written += book.appendTimed(drafts.map((draft) => ({ draft, time: at }))).length;
    },
  });
  let shed = projectAll(book.read(0, Number.MAX_SAFE_INTEGER));
  const recent = createRecent();
  const latest = new Map<SeriesId, Reading>();
  for (const reading of readingsBetween(season, from - hourMs, from, minuteMs)) {
    recent.take([reading]);
    latest.set(reading.series, reading);
  }
  watch.restore({ shed, latest, recent: recent.of }, from);
  for (const reading of readingsBetween(season, from, season.now, minuteMs)) {
    while (reading.at >= at + minuteMs) {
      at += minuteMs;
      watch.tick(at);
    }
    watch.readings([reading], Math.max(at, reading.at));
    if (written > 0) {
      shed = projectAll(book.read(shed.sequence, Number.MAX_SAFE_INTEGER), shed);
      written = 0;
      watch.follow(shed, at);
    }
  }
};
