import { DatabaseSync } from 'node:sqlite';
import { join } from 'node:path';
import { fail, ok, type Result } from '#domain/result.ts';

/** One collector per data directory: held by an exclusive lock that the operating system lets go when the process ends, however it ends. */
export interface Lock {
  release(): void;
}

export type LockFailure = { readonly code: 'in-use' | 'not-writable'; readonly message: string };

/** How long a process that is just ending may still hold it. */
const waitMs = 1_500;
/** SQLITE_BUSY (sqlite.org/rescode.html): somebody else holds the lock; anything else is about the directory itself. */
const busy = 5;

export const lockDirectory = (directory: string): Result<Lock, LockFailure> => {
  let database: DatabaseSync | null = null;
  try {
    database = new DatabaseSync(join(directory, 'collector.lock'), { timeout: waitMs });
    // Without a write-ahead log an exclusive transaction keeps every other process out; nothing is ever stored here.
    database.exec('BEGIN EXCLUSIVE');
    const held = database;
    return ok({ release: () => held.close() });
  } catch (cause) {
    database?.close();
    if (cause instanceof Error && 'errcode' in cause && cause.errcode === busy) return fail({ code: 'in-use', message: `The data directory ${directory} is in use by a running Brineward. Stop that one, or give another with --data.` });
    return fail({ code: 'not-writable', message: `The data directory ${directory} cannot be written (${cause instanceof Error ? cause.message : String(cause)}). Look at its rights, or give another with --data.` });
  }
};
