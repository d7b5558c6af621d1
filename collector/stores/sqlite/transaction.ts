import type { DatabaseSync } from 'node:sqlite';

/** Runs work as one transaction: all of it is kept, or, when it throws, none. DEFERRED reads one unchanging state; IMMEDIATE writes. */
export const inTransaction = <Value>(database: DatabaseSync, kind: 'DEFERRED' | 'IMMEDIATE', work: () => Value): Value => {
  database.exec(`BEGIN ${kind}`);
  try {
    const value = work();
    database.exec('COMMIT');
    return value;
  } catch (error) {
    // SQLite has already rolled back after some failures, a full disk among them.
    if (database.isTransaction) database.exec('ROLLBACK');
    throw error;
  }
};
