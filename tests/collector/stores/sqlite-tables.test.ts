import { DatabaseSync } from 'node:sqlite';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { qualities } from '#domain/reading/reading.ts';
import { hourMs, minuteMs, secondMs } from '#domain/units/time.ts';
import { openSqliteStore } from '../../../collector/stores/sqlite/open.ts';
import { qualityCode } from '../../../collector/stores/sqlite/quality-code.ts';
import { air, evenly, reading, start } from '../../helpers/readings.ts';
import { createDataDirectory } from '../../helpers/store-harness.ts';
import { valueOf } from '../../helpers/value-of.ts';

/** What stands in the file itself, seen through a connection of the test's own. */
describe('the tables of readings.db', () => {
  let place = createDataDirectory();
  beforeEach(() => {
    place = createDataDirectory();
  });
  afterEach(() => place.remove());
  const query = (sql: string): readonly unknown[] => {
    const database = new DatabaseSync(place.file, { readOnly: true });
    const found = database.prepare(sql).all().map((row) => ({ ...row }));
    database.close();
    return found;
  };

  test.each([
    ['rollup_10min', 10 * minuteMs],
    ['rollup_6h', 6 * hourMs],
  ])('%s is what grouping the good readings gives, after late, repeated and conflicting deliveries', async (table, widthMs) => {
    const store = valueOf(openSqliteStore({ file: place.file }));
    const readings = [...evenly(3_000, 47 * secondMs, start - 5 * hourMs), ...evenly(500, 313 * secondMs, start - 7 * hourMs, air)].map((each, index) =>
      index % 11 === 0 ? { ...each, quality: 'stuck' as const } : each,
    );
    for (const part of [2, 0, 1, 2]) await store.append(readings.filter((_, index) => index % 3 === part).toReversed());
    await store.append(readings.map((each) => ({ ...each, value: each.value + 1 })));
    await store.close();
    // Integers of SQLite, so `/` cuts off; times after 1970 are not negative.
    const expected = query(
      `SELECT series, time_ms / ${widthMs} * ${widthMs} AS from_ms, count(*) AS count, sum(value) AS sum, min(value) AS min, max(value) AS max
       FROM reading WHERE quality = 0 GROUP BY series, from_ms ORDER BY series, from_ms`,
    );
    expect(expected.length).toBeGreaterThan(10);
    expect(query(`SELECT * FROM ${table} ORDER BY series, from_ms`)).toEqual(expected);
  });

  test('times are whole numbers and starts of rollups stand on their grid', async () => {
    const store = valueOf(openSqliteStore({ file: place.file }));
    await store.append(evenly(200, 61 * secondMs, start + 1));
    await store.close();
    expect(query('SELECT DISTINCT typeof(time_ms) AS time, typeof(quality) AS quality, typeof(value) AS value FROM reading')).toEqual([{ time: 'integer', quality: 'integer', value: 'real' }]);
    expect(query(`SELECT from_ms FROM rollup_10min WHERE from_ms % ${10 * minuteMs} <> 0`)).toEqual([]);
    expect(query(`SELECT from_ms FROM rollup_6h WHERE from_ms % ${6 * hourMs} <> 0`)).toEqual([]);
  });

  test('the count of a series is the number of its rows', async () => {
    const store = valueOf(openSqliteStore({ file: place.file }));
    await store.append(evenly(40, minuteMs));
    await store.append([...evenly(60, minuteMs), reading(start, 3, air, 'out-of-range'), reading(start, 4, air)]);
    await store.close();
    expect(query('SELECT probe, channel, stored, (SELECT count(*) FROM reading WHERE series = id) AS rows FROM series ORDER BY stored')).toEqual([
      { probe: 'north-1', channel: 'air-temperature', stored: 1, rows: 1 },
      { probe: 'north-1', channel: 'temperature', stored: 60, rows: 60 },
    ]);
  });

  // Files outlive programs: a number given once keeps its meaning. A new quality gets the next number, at the end of the list.
  test('the numbers of the qualities are those in files already written', () => {
    expect(qualityCode).toMatchObject({ good: 0, 'power-on': 1, disconnected: 2, 'blank-scratchpad': 3, 'out-of-range': 4, stuck: 5, uncalibrated: 6, 'clock-doubtful': 7 });
    expect(new Set(Object.values(qualityCode)).size).toBe(qualities.length);
  });

  test('the file is set up to survive a power cut and to be read while it is written', async () => {
    const store = valueOf(openSqliteStore({ file: place.file }));
    await store.append([reading(start, 18)]);
    expect(query('PRAGMA journal_mode')).toEqual([{ journal_mode: 'wal' }]);
    expect(query('PRAGMA page_size')).toEqual([{ page_size: 4096 }]);
    await store.close();
  });
});
