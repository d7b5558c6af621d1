import { StoreFailure, type StoreFailureCode } from '../failure.ts';

/** Primary result codes of SQLite (sqlite.org/rescode.html) that come from the machine and not from a mistake in the program. */
const codes: ReadonlyMap<number, StoreFailureCode> = new Map([
  [5, 'locked'], // SQLITE_BUSY
  [6, 'locked'], // SQLITE_LOCKED
  [8, 'read-only'], // SQLITE_READONLY
  [10, 'input-output'], // SQLITE_IOERR
  [11, 'damaged'], // SQLITE_CORRUPT
  [13, 'disk-full'], // SQLITE_FULL
  [14, 'input-output'], // SQLITE_CANTOPEN
  [26, 'damaged'], // SQLITE_NOTADB
]);

/** The failure a thrown error stands for, or null where it is none of them. An extended code has its primary in the low byte. */
export const failureOf = (error: unknown): StoreFailure | null => {
  if (error instanceof StoreFailure) return error;
  if (!(error instanceof Error) || !('errcode' in error) || typeof error.errcode !== 'number') return null;
  const code = codes.get(error.errcode & 0xff);
  return code === undefined ? null : new StoreFailure(code, { cause: error });
};
