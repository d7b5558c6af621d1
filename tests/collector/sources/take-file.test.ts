import { createHash } from 'node:crypto';
import { mkdtempSync, readFileSync, rmSync, writeFileSync, existsSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { guessDelimiter, guessMapping } from '#domain/logger/guess.ts';
import type { LoggerMapping } from '#domain/logger/mapping.ts';
import { readNumber } from '#domain/logger/read-row.ts';
import { readTime } from '#domain/logger/read-time.ts';
import type { Reading } from '#domain/reading/reading.ts';
import { dayMs } from '#domain/units/time.ts';
import { headRows, readRows } from '../../../collector/sources/logger/csv-rows.ts';
import { beginImport, dropImport, importFile, importProgress, keepImport } from '../../../collector/sources/logger/files.ts';
import { takeFile } from '../../../collector/sources/logger/take-file.ts';
import { createMemoryStore } from '../../../collector/stores/memory.ts';

/**
 * NOAA/NCDC hourly normals 1981–2010 for Seattle, as vega-datasets 3.2.1 publishes them: 8,759 rows from 2010-01-01T01:00 to
 * 2010-12-31T23:00 without offset, 3.1 to 24.4 °C, mean 11.1276, in winter time all year.
 */
const published = new URL('../../../node_modules/vega-datasets/data/seattle-weather-hourly-normals.csv', import.meta.url);
const rowCount = 8_759;
const id = '20261003-0123abcd';
const now = Date.UTC(2026, 9, 3, 12);

let directory = '';
beforeEach(() => {
  directory = mkdtempSync(join(tmpdir(), 'brineward-import-'));
});
afterEach(() => rmSync(directory, { recursive: true }));

const handIn = (text: string | Buffer): string => {
  writeFileSync(beginImport(directory, id), text);
  const digest = createHash('sha256').update(text).digest('hex');
  keepImport(directory, id, { file: 'logger.csv', bytes: text.length, digest, by: 'user:owner', at: '2026-10-03T12:00:00.000Z' });
  return digest;
};

const mapped = (over: Partial<LoggerMapping> = {}): LoggerMapping => {
  const file = importFile(directory, id);
  const delimiter = guessDelimiter((each) => headRows(file, each, 60));
  return { ...guessMapping(headRows(file, delimiter, 60), delimiter), probe: 'old-logger', zone: '-08:00', ...over };
};

const order = (digest: string, mapping: LoggerMapping) => ({ id, file: 'logger.csv', bytes: 1, digest, mapping, by: 'user:owner', orderedAt: '2026-10-03T12:00:00.000Z', finished: null });

const take = async (digest: string, mapping: LoggerMapping, over: Partial<Parameters<typeof takeFile>[1]> = {}) => {
  const store = createMemoryStore();
  const finished = await takeFile(order(digest, mapping), { directory, now: () => now, store: (readings) => store.append(readings), isStopped: () => false, breathe: async () => {}, ...over });
  return { store, finished };
};

/** No reading before 2020 is kept, so the same rows are dated fifteen years later. */
const laterYears = (): string => readFileSync(published, 'utf8').replaceAll('2010-', '2025-');

describe('a published file of a weather station', () => {
  it('is understood without a word from anybody, and holds what its publisher says', async () => {
    const digest = handIn(readFileSync(published));
    expect(digest).toBe('3433511ab963755ec1a573420af962e713e66691c07c068f5a247e6891912311');
    const mapping = mapped();
    expect(mapping).toMatchObject({ delimiter: ',', skipRows: 1, timeColumns: [0], timeFormat: 'iso', valueColumn: 2, decimal: '.', channel: 'temperature', unit: 'Cel' });
    const values: number[] = [];
    const times: number[] = [];
    for await (const { cells } of readRows(importFile(directory, id), mapping.delimiter)) {
      const value = readNumber(cells?.[mapping.valueColumn] ?? '', mapping.decimal);
      const at = readTime(cells?.[0] ?? '', mapping.timeFormat, mapping.zone, null);
      if (value === null || !at.ok) continue;
      values.push(value);
      times.push(at.value);
    }
    expect(values.length).toBe(rowCount);
    expect([Math.min(...values), Math.max(...values), values.reduce((sum, value) => sum + value, 0) / rowCount]).toEqual([3.1, 24.4, expect.closeTo(11.1276, 4) as number]);
    expect([times[0], times.at(-1)]).toEqual([Date.parse('2010-01-01T01:00:00-08:00'), Date.parse('2010-12-31T23:00:00-08:00')]);
  });

  it('is refused row by row where its times lie before 2020, each with the reason', async () => {
    const { finished } = await take(handIn(readFileSync(published)), mapped());
    expect(finished).toMatchObject({ rows: rowCount, stored: 0, refused: { 'time-before-2020': rowCount }, from: null });
    expect(importProgress(directory, id)?.examples[0]).toEqual({ row: 2, reason: 'time-before-2020', text: '2010-01-01T01:00:00,1016.6,4.0,3.8' });
    expect(importProgress(directory, id)?.examples.length).toBe(20);
  });

  it('is stored to the last row under winter time, and misses the hour that spring leaves out under a zone that has it', async () => {
    const digest = handIn(laterYears());
    const { store, finished } = await take(digest, mapped());
    expect(finished).toMatchObject({ rows: rowCount, stored: rowCount, duplicates: 0, conflicts: 0, refused: {}, from: '2025-01-01T09:00:00.000Z', to: '2026-01-01T07:00:00.000Z' });
    const [summary] = await store.summaries();
    expect(summary).toMatchObject({ series: 'old-logger/temperature', count: rowCount });
    const all = await store.raw('old-logger/temperature', { from: 0, to: now }, 10_000);
    expect(all.reduce((sum, { value }) => sum + value, 0) / all.length).toBeCloseTo(11.1276, 4);
    // What it did its work for is not kept twice.
    expect(existsSync(importFile(directory, id))).toBe(false);

    // In 2025 clocks there went forward on 9 March at 02:00 (Energy Policy Act of 2005: the second Sunday of March).
    dropImport(directory, id);
    const zoned = await take(handIn(laterYears()), mapped({ zone: 'America/Los_Angeles' }));
    expect(zoned.finished).toMatchObject({ stored: rowCount - 1, refused: { 'time-skipped': 1 } });
    expect(importProgress(directory, id)?.examples).toMatchObject([{ text: expect.stringContaining('2025-03-09T02:00:00') as string }]);
  });

  it('goes on where it was after a stop, and tells everything once', async () => {
    const digest = handIn(laterYears());
    const store = createMemoryStore();
    const mapping = mapped();
    let pieces = 0;
    const deps = { directory, now: () => now, breathe: async () => {} };
    const first = await takeFile(order(digest, mapping), { ...deps, isStopped: () => pieces >= 2, store: (readings) => ((pieces += 1), store.append(readings)) });
    expect(first).toBeNull();
    expect(importProgress(directory, id)?.rows).toBe(4_000);
    let again = 0;
    const second = await takeFile(order(digest, mapping), { ...deps, isStopped: () => false, store: (readings) => ((again += readings.length), store.append(readings)) });
    expect(again).toBe(rowCount - 4_000);
    expect(second).toMatchObject({ rows: rowCount, stored: rowCount, duplicates: 0 });
    expect((await store.summaries())[0]?.count).toBe(rowCount);
  });

  it('is not taken where it is not the file that was handed in', async () => {
    const digest = handIn(laterYears());
    const mapping = mapped();
    writeFileSync(importFile(directory, id), laterYears().replace('4.0', '5.0'));
    expect((await take(digest, mapping)).finished).toMatchObject({ failed: 'file-changed', stored: 0 });
    rmSync(importFile(directory, id));
    expect((await take(digest, mapping)).finished).toMatchObject({ failed: 'file-gone', stored: 0 });
  });
});

describe('a file as loggers leave them', () => {
  // Invented rows.
  const messy = ['\uFEFFLogger 7;;', 'Datum;Zeit;Temperatur °C', '01.10.2026;08:00;18,5', '01.10.2026;08:10;', '01.10.2026;08:20;18,4', '01.10.2026;08:20;18,9', '01.10.2026;08:20;18,4', '01.10.2026', '32.10.2026;08:30;18,4', '01.10.2026;08:40;warm', '01.11.2026;08:50;18,4', '01.10.2026;09:00;"18,3"', ''].join('\r\n');

  it('gives what can be read, and a reason for each row that cannot', async () => {
    const digest = handIn(Buffer.from(messy));
    const { store, finished } = await take(digest, mapped({ zone: 'Europe/Rome' }));
    expect(finished).toMatchObject({ rows: 10, stored: 3, duplicates: 1, conflicts: 1, refused: { 'no-value': 1, 'too-few-columns': 1, 'not-a-time': 1, 'not-a-number': 1, 'time-in-future': 1 } });
    expect(await store.raw('old-logger/temperature', { from: now - 5 * dayMs, to: now }, 10)).toEqual<Reading[]>([
      { series: 'old-logger/temperature', at: Date.parse('2026-10-01T06:00:00Z'), value: 18.5, quality: 'good' },
      { series: 'old-logger/temperature', at: Date.parse('2026-10-01T06:20:00Z'), value: 18.4, quality: 'good' },
      { series: 'old-logger/temperature', at: Date.parse('2026-10-01T07:00:00Z'), value: 18.3, quality: 'good' },
    ]);
  });

  it('of no rows at all ends as well', async () => {
    const digest = handIn('a,b\n');
    expect((await take(digest, mapped({ skipRows: 1, timeColumns: [0], valueColumn: 1 }))).finished).toMatchObject({ rows: 0, stored: 0 });
  });

  it('loses no row to a broken one before it: an endless line, a quote that is never closed', async () => {
    const digest = handIn(`time,value\n${'x'.repeat(3_000_000)}\n2026-10-01T08:00:00Z,18.5\n2026-10-01T08:10:00Z,"18.4\n2026-10-01T08:20:00Z,18.3`);
    const mapping = mapped({ delimiter: ',', skipRows: 1, timeColumns: [0], timeFormat: 'iso', valueColumn: 1, decimal: '.', channel: 'temperature', unit: 'Cel' });
    expect((await take(digest, mapping)).finished).toMatchObject({ rows: 4, stored: 2, refused: { 'row-broken': 2 }, to: '2026-10-01T08:20:00.000Z' });
  });

  it.each([['utf-16le', true], ['latin1', false]] as const)('is read in %s as well', async (encoding, hasMark) => {
    const digest = handIn(Buffer.from(`${hasMark ? '\uFEFF' : ''}time;T °C\r2026-10-01 08:00;18,5 °C\r2026-10-01 08:10;18,4`, encoding));
    expect((await take(digest, mapped())).finished).toMatchObject({ rows: 2, stored: 2 });
  });
});
