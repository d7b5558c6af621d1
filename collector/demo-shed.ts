import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { ReadingStore } from '#domain/reading/store.ts';
import { lotCode } from '#domain/cure/lot-code.ts';
import type { Clock } from './clock.ts';
import type { Config } from './config.ts';
import { buildDemoSeason, startDemoPublisher, writeHistory, type DemoPublisher, type DemoSeason } from './demo/index.ts';
import type { Book } from './journal/book.ts';
import type { Log } from './log.ts';

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
  const lots = new Map<number, number>();
  const seasonAt = (now: number): DemoSeason =>
    buildDemoSeason({
      now,
      zone: config.zone,
      lotFor: ({ startedAt }) => {
        const year = Temporal.Instant.fromEpochMilliseconds(startedAt).toZonedDateTimeISO(config.zone).year;
        const number = (lots.get(year) ?? 0) + 1;
        lots.set(year, number);
        return lotCode(config.site, year, number);
      },
    });
  // A demo started again goes on with the same simulated season: it is rebuilt from the moment it was first made for.
  if (isNew) writeFileSync(originFile, JSON.stringify({ now: clock.now() }));
  const season = seasonAt((JSON.parse(readFileSync(originFile, 'utf8')) as { now: number }).now);
  if (isNew) {
    await writeHistory({
      season,
      appendReadings: (batch) => store.append(batch),
      appendEntries: async (entries) => void book.appendTimed(entries),
      progress,
    });
  }
  return {
    startPublishing: (brokerUrl, log) => startDemoPublisher({ brokerUrl, site: config.site, season, clock, speed: config.speed, log: { info: () => {}, warn: (fields, message) => log.warn(fields, message) } }),
  };
};
