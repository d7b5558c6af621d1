import { DatabaseSync } from 'node:sqlite';
import type { Reading } from '#domain/reading/reading.ts';
import { toRfc3339, type EpochMs } from '#domain/units/time.ts';

/**
 * Readings whose time cannot be true are kept here with the reason, so that nothing sent is lost and a person can see what a probe
 * with a wrong clock said. The newest 10,000 stay; older ones make room, and how many did is told.
 */
export interface Aside {
  keep(readings: readonly { readonly reading: Reading; readonly reason: string }[], receivedAt: EpochMs): void;
  readonly dropped: number;
  close(): void;
}

const mostKept = 10_000;

export const openAside = (file: string): Aside => {
  const database = new DatabaseSync(file, { timeout: 5_000 });
  database.exec(`PRAGMA journal_mode = WAL;
    CREATE TABLE IF NOT EXISTS aside (number INTEGER PRIMARY KEY AUTOINCREMENT, received TEXT NOT NULL, series TEXT NOT NULL, time_ms REAL NOT NULL, value REAL NOT NULL, reason TEXT NOT NULL) STRICT`);
  const insert = database.prepare('INSERT INTO aside (received, series, time_ms, value, reason) VALUES (?, ?, ?, ?, ?)');
  const trim = database.prepare('DELETE FROM aside WHERE number <= (SELECT max(number) FROM aside) - ?');
  let dropped = 0;
  return {
    keep: (readings, receivedAt) => {
      database.exec('BEGIN IMMEDIATE');
      for (const { reading, reason } of readings) insert.run(toRfc3339(receivedAt), reading.series, reading.at, reading.value, reason);
      dropped += Number(trim.run(mostKept).changes);
      database.exec('COMMIT');
    },
    get dropped() {
      return dropped;
    },
    close: () => database.close(),
  };
};
