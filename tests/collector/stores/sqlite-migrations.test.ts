import { DatabaseSync } from 'node:sqlite';
import { describe, expect, test } from 'vitest';
import { migrate, migrations, versionOf } from '../../../collector/stores/sqlite/migrations/index.ts';

const tablesOf = (database: DatabaseSync): readonly unknown[] => database.prepare("SELECT name FROM sqlite_schema WHERE type = 'table' ORDER BY name").all().map(({ name }) => name);

describe('migrations of readings.db', () => {
  // Invented later steps: they stand for the ones to come.
  const later = [...migrations, 'ALTER TABLE series ADD COLUMN note TEXT', "UPDATE series SET note = probe || '!'"];

  test.each(later.map((_, version) => version))('from version %i to the newest, with data in place', (version) => {
    const database = new DatabaseSync(':memory:');
    migrate(database, later.slice(0, version));
    expect(versionOf(database)).toBe(version);
    if (version > 0) database.exec("INSERT INTO series (probe, channel) VALUES ('north-1', 'ph'); INSERT INTO reading VALUES (1, 1000, 4.2, 0)");
    migrate(database, later);
    expect(versionOf(database)).toBe(later.length);
    expect(database.prepare('SELECT value FROM reading').all().length).toBe(version > 0 ? 1 : 0);
    expect(database.prepare('SELECT note FROM series').all().map(({ note }) => note)).toEqual(version > 0 ? ['north-1!'] : []);
  });

  test('a database that is up to date is left alone', () => {
    const database = new DatabaseSync(':memory:');
    migrate(database);
    const before = Buffer.from(database.serialize());
    migrate(database);
    expect(Buffer.from(database.serialize()).equals(before)).toBe(true);
  });

  test('a step that fails half-way leaves the version before it, whole', () => {
    const database = new DatabaseSync(':memory:');
    expect(() => migrate(database, [...migrations, 'CREATE TABLE half (a); INSERT INTO nowhere VALUES (1)'])).toThrow('nowhere');
    expect(versionOf(database)).toBe(migrations.length);
    expect(tablesOf(database)).toEqual(['block', 'block_bytes', 'reading', 'rollup_10min', 'rollup_6h', 'series']);
    expect(database.isTransaction).toBe(false);
  });
});
