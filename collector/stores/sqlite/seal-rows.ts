import type { DatabaseSync } from 'node:sqlite';
import type { Span } from '#domain/reading/store.ts';
import type { Columns } from '../blocks/columns.ts';
import { rows, type Rows } from './rows.ts';
import type { ReadingRow } from './sealed-rows.ts';

/** Rows are fetched this many at a time, so that a long day needs room for its columns but not for its rows as well. */
const pageRows = 8_192;

export interface RowColumns {
  /** The first `most` readings that a series has in rows within a span. */
  read(series: number, span: Span, most: number): Columns;
}

export const createRowColumns = (database: DatabaseSync): RowColumns => {
  const selectPage = rows(
    database,
    'SELECT time_ms, value, quality FROM reading WHERE series = ? AND time_ms >= ? AND time_ms < ? ORDER BY time_ms LIMIT ?',
  ) as Rows<ReadingRow>;
  return {
    read: (series, { from, to }, most) => {
      let columns: Columns = { times: new Float64Array(0), values: new Float64Array(0), qualities: new Uint8Array(0) };
      let next = from;
      for (;;) {
        const page = selectPage(series, next, to, Math.min(pageRows, most - columns.times.length));
        const last = page.at(-1);
        if (last === undefined) return columns;
        columns = withPage(columns, page);
        if (page.length < pageRows || columns.times.length >= most) return columns;
        next = last[0] + 1;
      }
    },
  };
};

const withPage = (columns: Columns, page: readonly ReadingRow[]): Columns => {
  const start = columns.times.length;
  const length = start + page.length;
  const grown = { times: new Float64Array(length), values: new Float64Array(length), qualities: new Uint8Array(length) };
  grown.times.set(columns.times);
  grown.values.set(columns.values);
  grown.qualities.set(columns.qualities);
  for (const [index, [time, value, quality]] of page.entries()) {
    grown.times[start + index] = time;
    grown.values[start + index] = value;
    grown.qualities[start + index] = quality;
  }
  return grown;
};

/** The same readings, bit for bit. */
export const sameColumns = (one: Columns, other: Columns): boolean =>
  one.times.length === other.times.length &&
  one.times.every((time, index) => time === other.times[index] && Object.is(one.values[index], other.values[index]) && one.qualities[index] === other.qualities[index]);
