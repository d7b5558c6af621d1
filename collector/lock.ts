import { DatabaseSync } from 'node:sqlite';
import { join } from 'node:path';
import { fail, ok, type Result } from '#domain/result.ts';

/** One collector per data directory: held by an exclusive lock that the operating system lets go when the process ends, however it ends. */
export interface Lock {
  release(): void;
}

export const lockDirectory = (directory: string): Result<Lock, { readonly code: 'in-use'; readonly message: string }> => {
  const database = new DatabaseSync(join(directory, 'collector.lock'), { timeout: 1_500 });
  try {
    // Without a write-ahead log an exclusive transaction keeps every other process out; nothing is ever stored here.
    database.exec('BEGIN EXCLUSIVE');
  } catch {
    database.close();
    return fail({ code: 'in-use', message: `The data directory ${directory} is in use by a running Brineward. Stop that one, or give another with --data.` });
  }
  return ok({ release: () => database.close() });
};
