import { DatabaseSync } from 'node:sqlite';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { hourMs, minuteMs } from '#domain/units/time.ts';
import { openSqliteStore } from '../../collector/stores/sqlite/open.ts';
import { brine, evenly, reading, start } from '../helpers/readings.ts';
import { createDataDirectory } from '../helpers/store-harness.ts';
import { valueOf } from '../helpers/value-of.ts';

/** Another process is played by another connection: SQLite locks between connections, whoever holds them. */
describe('a locked readings.db', () => {
  let place = createDataDirectory();
  beforeEach(() => {
    place = createDataDirectory();
  });
  afterEach(() => place.remove());

  test('an append says that it is locked, stores nothing, and succeeds once the lock is gone', async () => {
    const store = valueOf(openSqliteStore({ file: place.file, busyTimeoutMs: 20 }));
    await store.append(evenly(10, minuteMs));
    const other = new DatabaseSync(place.file);
    other.exec('BEGIN IMMEDIATE');
    const late = reading(start + hourMs, 21, 'new-9/ph');
    await expect(store.append([late])).rejects.toMatchObject({ name: 'StoreFailure', code: 'locked', canRetry: true });
    expect((await store.latest()).has('new-9/ph')).toBe(false);
    other.exec('ROLLBACK');
    other.close();
    expect(await store.append([late])).toMatchObject({ stored: 1 });
    expect((await store.latest()).get('new-9/ph')).toEqual(late);
    await store.close();
  });

  test('the writer in the middle of a transaction keeps no reader waiting, and the reader does not see half of it', async () => {
    const writer = valueOf(openSqliteStore({ file: place.file }));
    await writer.append(evenly(10, minuteMs));
    const reader = valueOf(openSqliteStore({ file: place.file, readOnly: true, busyTimeoutMs: 0 }));
    const other = new DatabaseSync(place.file);
    other.exec('BEGIN IMMEDIATE; DELETE FROM reading');
    expect((await reader.raw(brine, { from: start, to: start + hourMs }, 100)).length).toBe(10);
    expect((await reader.view([{ series: brine, from: start, to: start + hourMs }], { from: start, to: start + hourMs }, 100)).points.length).toBe(10);
    other.exec('ROLLBACK');
    other.close();
    await reader.close();
    await writer.close();
  });

  test('a reader in the middle of a long read does not block the writer', async () => {
    const writer = valueOf(openSqliteStore({ file: place.file, busyTimeoutMs: 0 }));
    await writer.append(evenly(10, minuteMs));
    const other = new DatabaseSync(place.file, { readOnly: true });
    other.exec('BEGIN');
    expect(other.prepare('SELECT count(*) AS count FROM reading').get()?.count).toBe(10);
    expect(await writer.append(evenly(20, minuteMs))).toMatchObject({ stored: 10, duplicates: 10 });
    expect(other.prepare('SELECT count(*) AS count FROM reading').get()?.count).toBe(10);
    other.exec('COMMIT');
    expect(other.prepare('SELECT count(*) AS count FROM reading').get()?.count).toBe(20);
    other.close();
    await writer.close();
  });

  test('opening a file that another program holds for itself alone says so', () => {
    const other = new DatabaseSync(place.file);
    other.exec('PRAGMA locking_mode = EXCLUSIVE; BEGIN EXCLUSIVE; CREATE TABLE held (a)');
    const opened = openSqliteStore({ file: place.file, busyTimeoutMs: 0 });
    expect(opened).toMatchObject({ ok: false, error: { code: 'locked' } });
    other.close();
  });
});
