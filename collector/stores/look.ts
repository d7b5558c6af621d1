import { existsSync, statSync } from 'node:fs';
import { pathToFileURL } from 'node:url';
import { DatabaseSync } from 'node:sqlite';

/**
 * Looks at a database before anything is opened for writing: a file that must be refused is then left exactly as it was, and
 * nothing is made beside it. Answers one line that says what to do, or null. May import Node.
 */
export interface LookOptions {
  /** The newest version this program understands. */
  readonly newest: number;
  /** Reads every page: for files that stay small. */
  readonly throughout?: boolean;
}

export type LookFailure = { readonly code: 'newer-database' | 'damaged'; readonly message: string };

export const lookAtDatabase = (file: string, { newest, throughout = false }: LookOptions): LookFailure | null => {
  if (!existsSync(file) || (statSync(file).isFile() && statSync(file).size === 0)) return null;
  try {
    const database = new DatabaseSync(locationOf(file), { readOnly: true, timeout: 5_000 });
    try {
      const version = Number(database.prepare('PRAGMA user_version').get()?.user_version);
      if (version > newest) return { code: 'newer-database', message: `${file} was written by a newer Brineward. Start that version, or restore an older backup into another directory and name it with --data.` };
      const check = throughout ? database.prepare('PRAGMA quick_check(1)').get()?.quick_check : 'ok';
      if (check !== 'ok') return damaged(file, String(check));
      // Reads the schema, and so finds a file that was cut short.
      database.prepare('SELECT count(*) FROM sqlite_schema').get();
      return null;
    } finally {
      database.close();
    }
  } catch (cause) {
    return damaged(file, cause instanceof Error ? cause.message : String(cause));
  }
};

const damaged = (file: string, why: string): LookFailure => ({
  code: 'damaged',
  message: `${file} is damaged (${why.replaceAll(/\s+/g, ' ')}). It was left as it is: restore a backup into an empty directory and name that with --data.`,
});

/** Without a write-ahead log beside it nobody has the file open, and SQLite need not make its helper files to read it. */
const locationOf = (file: string): string | URL => {
  if (existsSync(`${file}-wal`)) return file;
  const url = pathToFileURL(file);
  url.search = 'immutable=1';
  return url;
};
