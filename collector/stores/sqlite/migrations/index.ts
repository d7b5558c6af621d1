import type { DatabaseSync } from 'node:sqlite';
import { inTransaction } from '../transaction.ts';
import { readings } from './0001-readings.ts';
import { blocks } from './0002-blocks.ts';

/** Every step ever taken, oldest first; step N leads to version N. A step that has been released is never changed. */
export const migrations: readonly string[] = [readings, blocks];

/** Tells a database of readings from any other SQLite file: "BrnR" in ASCII. */
export const applicationId = 0x42_72_6e_52;

export const versionOf = (database: DatabaseSync): number => Number(database.prepare('PRAGMA user_version').get()?.user_version);

/** Takes the steps still missing, each in one transaction with its number: a step that fails leaves the version before it. */
export const migrate = (database: DatabaseSync, steps: readonly string[] = migrations): void => {
  for (let version = versionOf(database) + 1; version <= steps.length; version += 1) {
    inTransaction(database, 'IMMEDIATE', () => {
      database.exec(steps[version - 1] ?? '');
      database.exec(`PRAGMA application_id = ${applicationId}; PRAGMA user_version = ${version}`);
    });
  }
};
