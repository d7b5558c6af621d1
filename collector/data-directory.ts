import { existsSync, mkdirSync } from 'node:fs';
import { join } from 'node:path';
import type { ReadingStore } from '#domain/reading/store.ts';
import { fail, ok, type Result } from '#domain/result.ts';
import { openBook, type Book } from './journal/book.ts';
import { openSqliteStore } from './stores/sqlite/open.ts';

/** The files of a data directory: what is there is looked at first, so that a refused one is left exactly as it was. */
export type DirectoryFailure = { readonly code: string; readonly message: string };

export const makeDirectory = (directory: string): Result<null, DirectoryFailure> => {
  try {
    mkdirSync(directory, { recursive: true });
    return ok(null);
  } catch (cause) {
    return fail({ code: 'no-directory', message: `The data directory ${directory} cannot be made (${cause instanceof Error && 'code' in cause ? String(cause.code) : String(cause)}). Give another with --data.` });
  }
};

export const openFiles = async (directory: string): Promise<Result<{ readonly book: Book; readonly store: ReadingStore }, DirectoryFailure>> => {
  const readings = join(directory, 'readings.db');
  if (existsSync(readings)) {
    const looked = openSqliteStore({ file: readings, readOnly: true });
    if (looked.ok) await looked.value.close();
    else if (looked.error.code !== 'older-database') return looked;
  }
  const book = openBook(join(directory, 'book.db'));
  if (!book.ok) return book;
  const store = openSqliteStore({ file: readings });
  if (store.ok) return ok({ book: book.value, store: store.value });
  book.value.close();
  return store;
};
