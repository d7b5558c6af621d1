import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { fail, ok, type Result } from '#domain/result.ts';
import { bookVersion, openBook, type Book } from './journal/book.ts';
import { openReadings, type Readings, type ReadingsOptions } from './open-readings.ts';
import { lookAtDatabase } from './stores/look.ts';
import { migrations } from './stores/sqlite/migrations/index.ts';

/** The files of a data directory: what is there is looked at first, so that a refused one is left exactly as it was. */
export type DirectoryFailure = { readonly code: string; readonly message: string };

/** Readings may be many; damage deep inside them is found by `verify`, and by the call that meets it. */
export const lookAtDirectory = (directory: string): DirectoryFailure | null =>
  lookAtDatabase(join(directory, 'book.db'), { newest: bookVersion, throughout: true }) ??
  lookAtDatabase(join(directory, 'readings.db'), { newest: migrations.length }) ??
  lookAtDatabase(join(directory, 'outbox.db'), { newest: 1 }) ??
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

export const openFiles = async (options: ReadingsOptions): Promise<Result<{ readonly book: Book; readonly readings: Readings }, DirectoryFailure>> => {
  const book = openBook(join(options.directory, 'book.db'));
  if (!book.ok) return book;
  const readings = await openReadings(options);
  if (readings.ok) return ok({ book: book.value, readings: readings.value });
  book.value.close();
  return readings;
};
