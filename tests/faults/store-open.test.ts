import { createHash } from 'node:crypto';
import { copyFileSync, existsSync, mkdirSync, readFileSync, readdirSync, truncateSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { minuteMs, secondMs } from '#domain/units/time.ts';
import type { Result } from '#domain/result.ts';
import { openSqliteStore } from '../../collector/stores/sqlite/open.ts';
import { brine, evenly, reading, start } from '../helpers/readings.ts';
import { createDataDirectory } from '../helpers/store-harness.ts';
import { valueOf } from '../helpers/value-of.ts';

describe('opening readings.db', () => {
  let place = createDataDirectory();
  beforeEach(() => {
    place = createDataDirectory();
  });
  afterEach(() => place.remove());

  const fill = async (): Promise<void> => {
    const store = valueOf(openSqliteStore({ file: place.file }));
    await store.append(evenly(2_000, minuteMs));
    await store.close();
  };
  /** Every file of the directory with its digest; the shared memory of SQLite is no content. */
  const digests = (): readonly string[] =>
    readdirSync(dirname(place.file))
      .filter((name) => !name.endsWith('-shm'))
      .map((name) => `${name} ${createHash('sha256').update(readFileSync(join(dirname(place.file), name))).digest('hex')}`)
      .filter((line) => !line.startsWith('readings.db-wal e3b0c442'));
  const codeOf = (opened: Result<unknown, { readonly code: string }>): string => (opened.ok ? 'opened' : opened.error.code);
  const expectRefused = (code: string, readOnlyCode = code): void => {
    const before = digests();
    expect(codeOf(openSqliteStore({ file: place.file }))).toBe(code);
    expect(codeOf(openSqliteStore({ file: place.file, readOnly: true }))).toBe(readOnlyCode);
    expect(digests()).toEqual(before);
  };

  test('a newer database is refused, and not a byte of it changes', async () => {
    await fill();
    const database = new DatabaseSync(place.file);
    database.exec('PRAGMA user_version = 99');
    database.close();
    const names = readdirSync(dirname(place.file));
    expectRefused('newer-database');
    // SQLite was not even asked: it would have left its working files beside it.
    expect(readdirSync(dirname(place.file))).toEqual(names);
    const refused = openSqliteStore({ file: place.file });
    expect(refused.ok ? '' : refused.error.message).toMatch(/newer Brineward: .+/);
  });

  test('a newer version that stands only in the write-ahead log of a killed process is seen too', async () => {
    await fill();
    const newer = new DatabaseSync(place.file);
    newer.exec('PRAGMA user_version = 99');
    const left = createDataDirectory();
    for (const suffix of ['', '-wal']) copyFileSync(place.file + suffix, left.file + suffix);
    newer.close();
    place.remove();
    place = left;
    expectRefused('newer-database');
  });

  test('a file that is no database is refused as damaged', () => {
    for (const content of ['x', 'Once these were readings.\n'.repeat(400)]) {
      writeFileSync(place.file, content);
      expectRefused('damaged');
    }
  });

  test('a database cut short is refused as damaged', async () => {
    await fill();
    truncateSync(place.file, 8_192);
    expectRefused('damaged');
  });

  test('a database whose first pages were overwritten is refused as damaged', async () => {
    await fill();
    const bytes = readFileSync(place.file);
    bytes.fill(0xa5, 100, 4_096);
    writeFileSync(place.file, bytes);
    expectRefused('damaged');
  });

  test('damage deep inside is reported by the call that meets it, not answered from', async () => {
    await fill();
    const bytes = readFileSync(place.file);
    bytes.fill(0xa5, 6 * 4_096);
    writeFileSync(place.file, bytes);
    const store = valueOf(openSqliteStore({ file: place.file, readOnly: true }));
    await expect(store.raw(brine, { from: 0, to: start * 2 }, 5_000)).rejects.toMatchObject({ name: 'StoreFailure', code: 'damaged', canRetry: false });
    await store.close();
  });

  test('the database of another program is refused', () => {
    const database = new DatabaseSync(place.file);
    database.exec('CREATE TABLE songs (title TEXT)');
    database.close();
    expectRefused('foreign-database');
  });

  test('a reader waits for the collector to create the file, and creates nothing itself', () => {
    expect(codeOf(openSqliteStore({ file: place.file, readOnly: true }))).toBe('missing');
    expect(existsSync(place.file)).toBe(false);
    writeFileSync(place.file, '');
    expect(codeOf(openSqliteStore({ file: place.file, readOnly: true }))).toBe('missing');
    expect(codeOf(openSqliteStore({ file: place.file }))).toBe('opened');
  });

  test('a reader does not migrate', () => {
    const database = new DatabaseSync(place.file);
    database.exec('PRAGMA journal_mode = WAL; VACUUM');
    database.close();
    expect(codeOf(openSqliteStore({ file: place.file, readOnly: true }))).toBe('older-database');
  });

  test('a directory in its place, or no directory at all, is said in words', () => {
    mkdirSync(place.file);
    expect(codeOf(openSqliteStore({ file: place.file }))).toBe('input-output');
    expect(codeOf(openSqliteStore({ file: join(place.file, 'nowhere', 'readings.db') }))).toBe('input-output');
  });

  test('a reader refuses to append', async () => {
    await fill();
    const store = valueOf(openSqliteStore({ file: place.file, readOnly: true }));
    await expect(store.append([reading(start, 1)])).rejects.toMatchObject({ code: 'read-only' });
    await store.close();
  });

  test('a reader sees each commit of the writer, and a new series, without opening again', async () => {
    const writer = valueOf(openSqliteStore({ file: place.file }));
    const reader = valueOf(openSqliteStore({ file: place.file, readOnly: true }));
    expect(await reader.latest()).toEqual(new Map());
    for (let step = 0; step < 5; step += 1) {
      await writer.append([reading(start + step * secondMs, step), reading(start, step, `probe-${step}/ph`)]);
      expect(await reader.latest()).toEqual(await writer.latest());
      expect(await reader.summaries()).toEqual(await writer.summaries());
    }
    await writer.close();
    expect((await reader.latest([brine])).get(brine)?.value).toBe(4);
    await reader.close();
  });
});
