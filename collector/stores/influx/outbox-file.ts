import { existsSync } from 'node:fs';
import { DatabaseSync } from 'node:sqlite';

/**
 * The file `outbox.db`: what waits for InfluxDB, the readings of the last days, and what is known of each series. A reading is
 * acknowledged when it is in here, on disk.
 */
export const outboxVersion = 1;

/** Where a reading stands on its way. `unsure`: whether InfluxDB has another value for its time could not be asked yet. */
export const stateOf = { waiting: 0, unsure: 1, sent: 2, refused: 3 } as const;

/** `whole_from_ms`: from then on every reading of a series is in the file; what is older is in InfluxDB, or late and still here. */
const schema = `
  CREATE TABLE target (site TEXT NOT NULL, place TEXT NOT NULL) STRICT;
  CREATE TABLE series (
    id INTEGER PRIMARY KEY, probe TEXT NOT NULL, channel TEXT NOT NULL, stored INTEGER NOT NULL, whole_from_ms INTEGER NOT NULL,
    first_ms INTEGER NOT NULL, first_value REAL NOT NULL, first_quality TEXT NOT NULL,
    last_ms INTEGER NOT NULL, last_value REAL NOT NULL, last_quality TEXT NOT NULL, UNIQUE (probe, channel)
  ) STRICT;
  CREATE TABLE reading (
    series INTEGER NOT NULL, time_ms INTEGER NOT NULL, value REAL NOT NULL, quality TEXT NOT NULL, state INTEGER NOT NULL, PRIMARY KEY (series, time_ms)
  ) STRICT, WITHOUT ROWID;
  CREATE INDEX unsent ON reading (series, time_ms) WHERE state < ${stateOf.sent};
  CREATE INDEX elsewhere_not ON reading (series, time_ms) WHERE state <> ${stateOf.sent};
  PRAGMA user_version = ${outboxVersion};
`;

export interface OutboxTarget {
  readonly site: string;
  /** Host and database. */
  readonly place: string;
}

/** Whom the file is for, and how many readings wait in it; null where there is none. */
export const lookAtOutbox = (file: string): (OutboxTarget & { readonly waiting: number }) | null => {
  if (!existsSync(file)) return null;
  const database = new DatabaseSync(file, { readOnly: true, timeout: 5_000 });
  try {
    if (database.prepare('PRAGMA user_version').get()?.user_version === 0) return null;
    const target = database.prepare('SELECT site, place FROM target').get();
    const waiting = database.prepare(`SELECT count(*) AS count FROM reading WHERE state <> ${stateOf.sent}`).get();
    return target === undefined ? null : { site: String(target.site), place: String(target.place), waiting: Number(waiting?.count) };
  } finally {
    database.close();
  }
};

/** An outbox out of a backup is behind what InfluxDB has by now: it is begun anew at the next start, with what waits in it. */
export const forgetPlace = (file: string): void => {
  const database = new DatabaseSync(file, { timeout: 5_000 });
  database.exec("UPDATE target SET place = ''");
  database.close();
};

export const openOutboxFile = (file: string, readOnly: boolean): DatabaseSync => {
  const database = new DatabaseSync(file, { readOnly, timeout: 5_000 });
  if (readOnly) return database;
  // FULL: what was acknowledged survives a power cut.
  database.exec('PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL');
  if (database.prepare('PRAGMA user_version').get()?.user_version === 0) database.exec(`BEGIN IMMEDIATE; ${schema} COMMIT`);
  return database;
};
