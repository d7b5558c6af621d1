import type { Reading, SeriesId } from '#domain/reading/reading.ts';
import { addRollup, addValue, levelStart, startRollup, type Rollup, type RollupDraft, type RollupLevel } from '#domain/reading/rollup.ts';
import type { Span } from '#domain/reading/store.ts';
import type { Slice, ViewSource } from '#domain/reading/view.ts';
import type { EpochMs } from '#domain/units/time.ts';
import type { InfluxRow } from './client.ts';
import type { KnownSeries } from './outbox.ts';
import { readingOfRow, rollupOfRow, type Statements } from './statements.ts';

/** What the outbox has of a series in the span asked for, read in one unchanging state. */
export interface Shelf {
  readonly known: KnownSeries;
  /** From `known.wholeFrom` on: all there is. */
  readonly whole: readonly Reading[];
  /** Before it: what InfluxDB need not have yet. */
  readonly unsent: readonly Reading[];
}

/** InfluxDB's rows for a statement; null where they are not here yet, and will be in the next round. */
export type Ask = (statement: string) => readonly InfluxRow[] | null;

/** Both lists in order of time; where both have a time, InfluxDB's reading is the first that was stored. */
export const joined = (remote: readonly Reading[], unsent: readonly Reading[]): readonly Reading[] => {
  if (unsent.length === 0) return remote;
  const times = new Set(remote.map(({ at }) => at));
  return [...remote, ...unsent.filter(({ at }) => !times.has(at))].toSorted((one, other) => one.at - other.at);
};

/** The part of a span InfluxDB has to be asked about; null where the outbox has it all. */
export const remotePart = ({ wholeFrom, first }: KnownSeries, { from, to }: Span): Span | null => {
  const part = { from: Math.max(from, first.at), to: Math.min(to, wholeFrom) };
  return part.from < part.to ? part : null;
};

const within = (readings: readonly Reading[], { from, to }: Span): readonly Reading[] => readings.filter(({ at }) => at >= from && at < to);
const isGood = ({ quality }: Reading): boolean => quality === 'good';
const sliceOf = ({ at, value }: Reading): Slice => ({ from: at, to: at, count: 1, sum: value, min: value, max: value });

/**
 * A view out of InfluxDB and the outbox. What is not here yet is asked for in the next round and counts as nothing in this one, whose
 * result is thrown away: first the numbers of readings, which decide the level, then the readings or rollups of that level.
 */
export const viewSource = (shelves: ReadonlyMap<SeriesId, Shelf>, statements: Statements, ask: Ask): ViewSource => {
  let counting = false;
  const remote = (known: KnownSeries, span: Span, statement: (part: Span) => string): readonly InfluxRow[] => {
    const part = remotePart(known, span);
    return part === null || counting ? [] : (ask(statement(part)) ?? []);
  };
  /** Unsent readings of a span that InfluxDB does not have after all. */
  const missing = ({ known, unsent }: Shelf, span: Span): readonly Reading[] => {
    const late = within(unsent, span);
    const [first] = late;
    const last = late.at(-1);
    if (first === undefined || last === undefined) return [];
    const stored = new Set(remote(known, { from: first.at, to: last.at + 1 }, (part) => statements.first(known.series, part, Infinity)).map(([at]) => Number(at)));
    return late.filter(({ at }) => !stored.has(at));
  };

  return {
    extent: (series) => {
      const known = shelves.get(series)?.known;
      return known === undefined ? null : { from: known.first.at, to: known.last.at + 1 };
    },
    countReadings: (series, span) => {
      const shelf = shelves.get(series);
      if (shelf === undefined) return 0;
      const here = within(shelf.whole, span).length + within(shelf.unsent, span).length;
      const part = remotePart(shelf.known, span);
      if (part === null) return here;
      const rows = ask(statements.count(series, part));
      if (rows === null) counting = true;
      return here + Number(rows?.[0]?.[1] ?? 0);
    },
    goodReadings: (series, span) => {
      const shelf = shelves.get(series);
      if (shelf === undefined) return [];
      const found = remote(shelf.known, span, (part) => statements.first(series, part, Infinity)).map((row) => readingOfRow(series, row));
      return [...joined(found, within(shelf.unsent, span)), ...within(shelf.whole, span)].filter(isGood).map(sliceOf);
    },
    rollups: (series, level, span) => {
      const shelf = shelves.get(series);
      if (shelf === undefined) return [];
      const drafts = new Map<EpochMs, RollupDraft>();
      for (const row of remote(shelf.known, span, (part) => statements.rollups(series, level, part))) addRollup(draftOf(drafts, Number(row[0]), level), rollupOfRow(row));
      for (const { at, value } of [...missing(shelf, span), ...within(shelf.whole, span)].filter(isGood)) addValue(draftOf(drafts, at, level), value);
      return [...drafts.values()].toSorted((one: Rollup, other: Rollup) => one.from - other.from);
    },
  };
};

const draftOf = (drafts: Map<EpochMs, RollupDraft>, at: EpochMs, level: RollupLevel): RollupDraft => {
  const from = levelStart(at, level);
  let draft = drafts.get(from);
  if (draft === undefined) drafts.set(from, (draft = startRollup(from)));
  return draft;
};
