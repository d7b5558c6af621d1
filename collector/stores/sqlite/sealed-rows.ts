import type { Span } from '#domain/reading/store.ts';
import type { EpochMs } from '#domain/units/time.ts';
import type { Columns } from '../blocks/columns.ts';
import { lowerBound } from '../blocks/lower-bound.ts';
import type { BlockReader, StoredBlock } from './block-reader.ts';

/** A reading as a row, whether it stands in the table of readings or in a block. */
export type ReadingRow = readonly [timeMs: number, value: number, quality: number];

/** The sealed readings of a span, in no promised order: all of the first `limit` are among them. */
export const firstSealed = (blocks: BlockReader, series: number, span: Span, limit: number): readonly ReadingRow[] => {
  const found: ReadingRow[] = [];
  if (limit <= 0) return found;
  let newest = -Infinity;
  for (const block of blocks.within(series, span)) {
    // Blocks come by their first reading: this one and all behind it begin after enough has been found.
    if (found.length >= limit && block.first > newest) break;
    const columns = blocks.columns(block);
    addRows(columns, rangeOf(columns, span, { first: limit }), found);
    newest = Math.max(newest, block.last);
  }
  return found;
};

/** As above, but all of the last `count` before a time are among them. */
export const lastSealed = (blocks: BlockReader, series: number, before: EpochMs, count: number): readonly ReadingRow[] => {
  const found: ReadingRow[] = [];
  const span = { from: -Number.MAX_SAFE_INTEGER, to: before };
  let oldest = Infinity;
  for (const block of blocks.within(series, span).toSorted((one, other) => other.last - one.last)) {
    if (found.length >= count && block.last < oldest) break;
    const columns = blocks.columns(block);
    addRows(columns, rangeOf(columns, span, { last: count }), found);
    oldest = Math.min(oldest, block.first);
  }
  return found;
};

/** How many sealed readings a span holds; a block that lies whole in it is not opened. */
export const countSealed = (blocks: BlockReader, series: number, span: Span): number => {
  let count = 0;
  for (const block of blocks.within(series, span)) {
    if (block.first >= span.from && block.last < span.to) count += block.count;
    else {
      const { start, end } = rangeOf(blocks.columns(block), span, {});
      count += Math.max(0, end - start);
    }
  }
  return count;
};

export const lastOf = (blocks: BlockReader, block: StoredBlock): ReadingRow | undefined => rowAt(blocks, block, -1);
export const firstOf = (blocks: BlockReader, block: StoredBlock): ReadingRow | undefined => rowAt(blocks, block, 0);

const rowAt = (blocks: BlockReader, block: StoredBlock, index: number): ReadingRow | undefined => {
  const { times, values, qualities } = blocks.columns(block);
  const time = times.at(index);
  return time === undefined ? undefined : [time, values.at(index) ?? NaN, qualities.at(index) ?? 0];
};

/** Rows from the table and from blocks as one list in order of time. */
export const inOrder = (stored: readonly ReadingRow[], sealed: readonly ReadingRow[]): readonly ReadingRow[] => {
  if (sealed.length === 0) return stored;
  const all = [...sealed, ...stored];
  let before = -Infinity;
  for (const [time] of all) {
    if (time < before) return all.sort(([one], [other]) => one - other);
    before = time;
  }
  return all;
};

interface Range {
  readonly start: number;
  readonly end: number;
}

/** Where in a block a span lies, or so many of its first or last readings. */
const rangeOf = ({ times }: Columns, { from, to }: Span, { first = Infinity, last = Infinity }: { readonly first?: number; readonly last?: number }): Range => {
  const start = lowerBound(times, from);
  const end = lowerBound(times, to);
  return { start: Math.max(start, end - last), end: Math.min(end, start + first) };
};

const addRows = ({ times, values, qualities }: Columns, { start, end }: Range, found: ReadingRow[]): void => {
  for (let index = start; index < end; index += 1) found.push([times[index] ?? NaN, values[index] ?? NaN, qualities[index] ?? 0]);
};
