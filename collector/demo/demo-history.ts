import type { Reading } from '#domain/reading/reading.ts';
import { minuteMs } from '#domain/units/time.ts';
import type { TimedDraft } from './timed-draft.ts';
import type { DemoSeason } from './demo-season.ts';
import { readingsBetween } from './demo-season.ts';

export interface HistoryOptions {
  readonly season: DemoSeason;
  readonly appendReadings: (batch: readonly Reading[]) => Promise<unknown>;
  readonly appendEntries: (entries: readonly TimedDraft[]) => Promise<unknown>;
  readonly progress: (fraction: number, text: string) => void;
  readonly stepMs?: number;
}

export interface HistoryWritten {
  readonly readings: number;
  readonly entries: number;
}

/** Big enough that a store's commit costs little, small enough that progress moves. */
const batchSize = 5_000;

/** Writes the weeks before now: first the readings, oldest first, then the journal, whose presence says that all is there. */
export const writeHistory = async ({ season, appendReadings, appendEntries, progress, stepMs = minuteMs }: HistoryOptions): Promise<HistoryWritten> => {
  const { entries, start, now } = season;
  progress(0, 'writing weeks of readings');
  let written = 0;
  let batch: Reading[] = [];
  const flush = async (): Promise<void> => {
    const last = batch.at(-1);
    if (last === undefined) return;
    await appendReadings(batch);
    written += batch.length;
    batch = [];
    progress((last.at - start) / (now - start), 'writing weeks of readings');
  };
  for (const reading of readingsBetween(season, start, now, stepMs)) {
    batch.push(reading);
    if (batch.length >= batchSize) await flush();
  }
  await flush();
  await appendEntries(entries);
  progress(1, 'history is written');
  return { readings: written, entries: entries.length };
};
