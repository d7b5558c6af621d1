import { closeSync, createReadStream, openSync, readSync } from 'node:fs';
import { parse } from 'csv-parse/sync';
import type { Delimiter } from '#domain/logger/mapping.ts';
import { decoderFor, readLines } from './lines.ts';

/**
 * The rows of a logger's table (RFC 4180 and what loggers make of it: other delimiters, titles before the table, short rows, stray
 * quotes). Each line is a row of its own: no logger writes a line end within a cell, and a quote that is never closed must not swallow
 * the rest of the file.
 */
export const cellsOf = (line: string, delimiter: Delimiter): readonly string[] | null => {
  if (!line.includes('"')) return line.split(delimiter).map((cell) => cell.trim());
  try {
    const [cells] = parse(line, { delimiter, relax_column_count: true, relax_quotes: true, trim: true });
    return cells ?? null;
  } catch {
    return null;
  }
};

const headBytes = 65_536;

/** The first rows of a file, as they stand. What is cut off at the end of the piece read is left out. */
export const headRows = (file: string, delimiter: Delimiter, most: number): readonly (readonly string[])[] => {
  const descriptor = openSync(file, 'r');
  const bytes = Buffer.alloc(headBytes);
  const length = readSync(descriptor, bytes, 0, headBytes, 0);
  closeSync(descriptor);
  const lines = decoderFor(bytes).decode(bytes.subarray(0, length)).split(/\r\n|\n|\r/);
  const whole = length < headBytes || lines.length === 1 ? lines : lines.slice(0, -1);
  return whole.filter((line) => line.trim() !== '').slice(0, most).map((line) => cellsOf(line, delimiter) ?? [line]);
};

export interface CsvRow {
  /** Null: not well formed. */
  readonly cells: readonly string[] | null;
  readonly bytes: number;
}

/** Row after row, at the pace of whoever takes them; empty lines are none. */
export async function* readRows(file: string, delimiter: Delimiter): AsyncGenerator<CsvRow> {
  for await (const { text, bytes } of readLines(createReadStream(file))) {
    if (text !== null && text.trim() === '') continue;
    yield { cells: text === null ? null : cellsOf(text, delimiter), bytes };
  }
}
