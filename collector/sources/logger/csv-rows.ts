import { createReadStream, openSync, readSync, closeSync } from 'node:fs';
import { parse, type Options } from 'csv-parse';
import { parse as parseAll } from 'csv-parse/sync';
import type { Delimiter } from '#domain/logger/mapping.ts';

/** RFC 4180 and what loggers make of it: other delimiters, titles before the table, short rows, stray quotes, a byte order mark. */
const options = (delimiter: Delimiter): Options => ({ delimiter, bom: true, relax_column_count: true, relax_quotes: true, skip_empty_lines: true, max_record_size: 65_536, trim: true });

const headBytes = 65_536;

/** The first rows of a file, as they stand. What is cut off at the end of the piece read is left out. */
export const headRows = (file: string, delimiter: Delimiter, most: number): readonly (readonly string[])[] => {
  const descriptor = openSync(file, 'r');
  const bytes = Buffer.alloc(headBytes);
  const length = readSync(descriptor, bytes, 0, headBytes, 0);
  closeSync(descriptor);
  const whole = length < headBytes ? length : Math.max(bytes.lastIndexOf(10), 0) || length;
  try {
    return parseAll(bytes.subarray(0, whole), { ...options(delimiter), to: most }) as unknown as string[][];
  } catch {
    // Nothing that could be cut into rows: the person sees an empty table and tries another delimiter.
    return [];
  }
};

export interface CsvRow {
  readonly cells: readonly string[];
  /** Bytes of the file read so far. */
  readonly bytes: number;
}

/** Row after row, at the pace of whoever takes them; a broken row has no cells. */
export async function* readRows(file: string, delimiter: Delimiter): AsyncGenerator<CsvRow> {
  const parser = parse({ ...options(delimiter), skip_records_with_error: true });
  let broken = 0;
  parser.on('skip', () => {
    broken += 1;
  });
  const stream = createReadStream(file);
  stream.on('error', (error) => parser.destroy(error));
  stream.pipe(parser);
  try {
    for await (const cells of parser as AsyncIterable<string[]>) {
      for (; broken > 0; broken -= 1) yield { cells: [], bytes: parser.info.bytes };
      yield { cells, bytes: parser.info.bytes };
    }
    for (; broken > 0; broken -= 1) yield { cells: [], bytes: parser.info.bytes };
  } finally {
    stream.destroy();
  }
}
