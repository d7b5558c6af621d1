import { expect, test } from 'vitest';
import type { Reading } from '#domain/reading/reading.ts';
import { dayMs } from '#domain/units/time.ts';
import type { TimedDraft } from '../../../collector/demo/timed-draft.ts';
import { writeHistory } from '../../../collector/demo/demo-history.ts';
import { buildDemoSeason } from '../../../collector/demo/demo-season.ts';

const now = Date.UTC(2026, 10, 12, 12, 17, 31);
const season = buildDemoSeason({ now, zone: 'Europe/Athens', lotFor: ({ number }) => `lot-${number}` });

const write = async (stepMs?: number) => {
  const told: string[] = [];
  const batches: (readonly Reading[])[] = [];
  const entries: TimedDraft[] = [];
  const progress: number[] = [];
  const written = await writeHistory({
    season,
    appendReadings: async (batch) => void (told.push('readings'), batches.push(batch)),
    appendEntries: async (drafts) => void (told.push('entries'), entries.push(...drafts)),
    progress: (fraction) => void progress.push(fraction),
    ...(stepMs !== undefined && { stepMs }),
  });
  return { told, batches, entries, progress, written, readings: batches.flat() };
};

test('six weeks of readings come in batches a store can commit at once, then the journal, whose presence says that all is there', async () => {
  const { told, batches, entries, written, readings } = await write();
  const readingsTold = told.lastIndexOf('readings');
  expect(told.indexOf('entries')).toBeGreaterThan(readingsTold);
  expect(told.lastIndexOf('entries')).toBe(told.indexOf('entries'));
  expect(entries).toEqual(season.entries);
  expect(written).toEqual({ readings: readings.length, entries: entries.length });
  expect(readings.length).toBeGreaterThan(250_000);
  for (const batch of batches) expect(batch.length).toBeLessThanOrEqual(5_000);
});

test('no series and time twice, none before the shed was set up, none from now on, and it reaches up to now', async () => {
  const { readings } = await write(10 * 60_000);
  expect(new Set(readings.map(({ series, at }) => `${series} ${at}`)).size).toBe(readings.length);
  const times = readings.map(({ at }) => at);
  expect(times.every((at) => at >= season.start && at < now)).toBe(true);
  expect(now - Math.max(...times)).toBeLessThan(10 * 60_000);
  expect(Math.min(...times) - season.start).toBeLessThan(dayMs / 24);
  for (const { value } of readings) expect(Number.isFinite(value)).toBe(true);
});

test('progress only grows, from nothing to all', async () => {
  const { progress } = await write();
  expect(progress[0]).toBe(0);
  expect(progress.at(-1)).toBe(1);
  expect(progress).toEqual(progress.toSorted((one, other) => one - other));
});

test('a store that refuses stops the writing with its own error', async () => {
  const full = new Error('disk is full');
  await expect(writeHistory({ season, appendReadings: () => Promise.reject(full), appendEntries: () => Promise.resolve(), progress: () => undefined })).rejects.toBe(full);
});
