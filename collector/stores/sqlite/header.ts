import { closeSync, openSync, readSync, statSync } from 'node:fs';

/** What the first page of a file says about it, read without SQLite so that nothing can be touched. */
export type Header = { readonly kind: 'missing' } | { readonly kind: 'empty' } | { readonly kind: 'no-database' } | { readonly kind: 'database'; readonly version: number };

const headerBytes = 100;
const magic = 'SQLite format 3\0';
/** SQLite file format (sqlite.org/fileformat.html, section 1.3): the user version stands at byte 60, big-endian. */
const versionAt = 60;

export const readHeader = (file: string): Header => {
  const size = statSync(file, { throwIfNoEntry: false })?.size;
  if (size === undefined) return { kind: 'missing' };
  if (size === 0) return { kind: 'empty' };
  const header = Buffer.alloc(headerBytes);
  const handle = openSync(file, 'r');
  try {
    readSync(handle, header, 0, headerBytes, 0);
  } finally {
    closeSync(handle);
  }
  if (size < headerBytes || header.toString('latin1', 0, magic.length) !== magic) return { kind: 'no-database' };
  return { kind: 'database', version: header.readInt32BE(versionAt) };
};
