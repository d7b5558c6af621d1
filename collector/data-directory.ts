import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import type { SealingStore } from '#domain/reading/sealing.ts';
import { fail, ok, type Result } from '#domain/result.ts';
import { bookVersion, openBook, type Book } from './journal/book.ts';
import { lookAtDatabase } from './stores/look.ts';
import { migrations } from './stores/sqlite/migrations/index.ts';
import { openSqliteStore } from './stores/sqlite/open.ts';

/** The files of a data directory: what is there is looked at first, so that a refused one is left exactly as it was. */
export type DirectoryFailure = { readonly code: string; readonly message: string };

/** Readings may be many; damage deep inside them is found by `verify`, and by the call that meets it. */
export const lookAtDirectory = (directory: string): DirectoryFailure | null =>
  lookAtDatabase(join(directory, 'book.db'), { newest: bookVersion, throughout: true }) ??
  lookAtDatabase(join(directory, 'readings.db'), { newest: migrations.length }) ??
  lookAtDatabase(join(directory, 'aside.db'), { newest: 0, throughout: true });

export const makeDirectory = (directory: string): Result<null, DirectoryFailure> => {
  try {
    mkdirSync(directory, { recursive: true });
    return ok(null);
  } catch (cause) {
    const why = cause instanceof Error && 'code' in cause ? (cause.code === 'EEXIST' || cause.code === 'ENOTDIR' ? 'there is a file in its place' : String(cause.code)) : String(cause);
    return fail({ code: 'no-directory', message: `The data directory ${directory} cannot be made (${why}). Give another with --data.` });
  }
};

export const openFiles = (directory: string): Result<{ readonly book: Book; readonly store: SealingStore }, DirectoryFailure> => {
  const book = openBook(join(directory, 'book.db'));
  if (!book.ok) return book;
  const store = openSqliteStore({ file: join(directory, 'readings.db') });
  if (store.ok) return ok({ book: book.value, store: store.value });
  book.value.close();
  return store;
};
