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
      const pages: Columns[] = [];
      let count = 0;
      for (let next = from; ; ) {
        const page = selectPage(series, next, to, Math.min(pageRows, most - count));
        const last = page.at(-1);
        if (last === undefined) break;
        pages.push(asColumns(page));
        count += page.length;
        next = last[0] + 1;
      }
      return joined(pages, count);
    },
  };
};

const emptyColumns = (count: number): Columns => ({ times: new Float64Array(count), values: new Float64Array(count), qualities: new Uint8Array(count) });

const asColumns = (page: readonly ReadingRow[]): Columns => {
  const columns = emptyColumns(page.length);
  let index = 0;
  for (const row of page) {
    columns.times[index] = row[0];
    columns.values[index] = row[1];
    columns.qualities[index] = row[2];
    index += 1;
  }
  return columns;
};

const joined = (pages: readonly Columns[], count: number): Columns => {
  const columns = emptyColumns(count);
  let start = 0;
  for (const { times, values, qualities } of pages) {
    columns.times.set(times, start);
    columns.values.set(values, start);
    columns.qualities.set(qualities, start);
    start += times.length;
  }
  return columns;
};

/** The same readings, bit for bit. */
export const sameColumns = (one: Columns, other: Columns): boolean => {
  if (one.times.length !== other.times.length) return false;
  for (let index = 0; index < one.times.length; index += 1) {
    if (one.times[index] !== other.times[index] || !Object.is(one.values[index], other.values[index]) || one.qualities[index] !== other.qualities[index]) return false;
  }
  return true;
};
