import type { DatabaseSync } from 'node:sqlite';
import { addRollup, addValue, bucketStart, levelStart, startRollup, type Rollup, type RollupDraft, type RollupLevel } from '#domain/reading/rollup.ts';
import type { BlockFault } from '#domain/reading/sealing.ts';
import { levelMs, type Span } from '#domain/reading/store.ts';
import { dayMs } from '#domain/units/time.ts';
import type { Block } from '../blocks/block.ts';
import { qualityCode } from './quality-code.ts';
import { firstRow, rows, type FirstRow, type Rows } from './rows.ts';
import { rollupTables, type RollupRow } from './rollup-rows.ts';
import type { ReadingRow } from './sealed-rows.ts';

/** What is kept about all readings of a series, worked out again from the readings themselves: how many, and the sums for views. */
export interface Totals {
  add(block: Block | null, count: number): void;
  /** Adds the rows and compares. A wrong sum is told once a UTC day. */
  faults(): readonly (Span & { readonly fault: BlockFault })[];
}

/** Sums of the same numbers in another order differ in their last bits. */
const mostRelativeError = 1e-9;
const pageRows = 8_192;

export const createTotals = (database: DatabaseSync, series: number): Totals => {
  const selectPage = rows(database, 'SELECT time_ms, value, quality FROM reading WHERE series = ? AND time_ms > ? ORDER BY time_ms LIMIT ?') as Rows<ReadingRow>;
  const selectStored = firstRow(database, 'SELECT stored FROM series WHERE id = ?') as FirstRow<readonly [number]>;
  const tenMinutes = new Map<number, RollupDraft>();
  let current = startRollup(NaN);
  let stored = 0;
  let extent = { from: Infinity, to: -Infinity };
  let isWhole = true;

  const addReading = (time: number, value: number, quality: number): void => {
    if (quality !== qualityCode.good) return;
    const from = bucketStart(time, levelMs['10min']);
    if (current.from !== from) {
      current = tenMinutes.get(from) ?? startRollup(from);
      tenMinutes.set(from, current);
    }
    addValue(current, value);
  };
  const reach = (from: number, to: number) => {
    extent = { from: Math.min(extent.from, from), to: Math.max(extent.to, to) };
  };

  const addRows = (): void => {
    for (let after = -Number.MAX_SAFE_INTEGER; ; ) {
      const page = selectPage(series, after, pageRows);
      for (const [time, value, quality] of page) addReading(time, value, quality);
      stored += page.length;
      const last = page.at(-1)?.[0];
      if (last === undefined) return;
      reach(page[0]?.[0] ?? last, last + 1);
      after = last;
    }
  };

  const wrongRollups = (level: RollupLevel, rollups: ReadonlyMap<number, Rollup>): readonly Span[] => {
    const select = rows(database, `SELECT from_ms, count, sum, min, max FROM ${rollupTables[level]} WHERE series = ? ORDER BY from_ms`) as Rows<RollupRow>;
    const kept = new Map(select(series).map((row) => [row[0], row]));
    const starts = [...new Set([...kept.keys(), ...rollups.keys()])].toSorted((one, other) => one - other);
    const wrong = starts.filter((start) => !isSame(rollups.get(start), kept.get(start)));
    return [...new Set(wrong.map((start) => bucketStart(start, dayMs)))].map((from) => ({ from, to: from + dayMs }));
  };

  return {
    add: (block, count) => {
      stored += count;
      if (block === null) {
        isWhole = false;
        return;
      }
      const { times, values, qualities } = block.columns;
      for (let index = 0; index < times.length; index += 1) addReading(times[index] ?? NaN, values[index] ?? NaN, qualities[index] ?? 0);
      reach(block.from, block.to);
    },
    faults: () => {
      addRows();
      const found: (Span & { fault: BlockFault })[] = [];
      if (selectStored(series)?.[0] !== stored) found.push({ ...(extent.from < extent.to ? extent : { from: 0, to: 0 }), fault: 'count-wrong' });
      // Without the readings of a block that cannot be read, its sums cannot be worked out.
      if (!isWhole) return found;
      const sixHours = new Map<number, RollupDraft>();
      for (const rollup of tenMinutes.values()) {
        const from = levelStart(rollup.from, '6h');
        const coarse = sixHours.get(from) ?? startRollup(from);
        addRollup(coarse, rollup);
        sixHours.set(from, coarse);
      }
      const days = new Map([...wrongRollups('10min', tenMinutes), ...wrongRollups('6h', sixHours)].map((day) => [day.from, day]));
      for (const day of days.values()) found.push({ ...day, fault: 'rollup-wrong' });
      return found;
    },
  };
};

const isSame = (worked: Rollup | undefined, kept: RollupRow | undefined): boolean => {
  if (worked === undefined || kept === undefined) return false;
  const [, count, sum, min, max] = kept;
  if (count !== worked.count || min !== worked.min || max !== worked.max) return false;
  const largest = Math.max(Math.abs(min), Math.abs(max)) * count;
  // Past the largest double there is no sum to compare.
  return !Number.isFinite(largest) || Math.abs(sum - worked.sum) <= mostRelativeError * largest;
};
