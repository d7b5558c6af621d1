import type { DatabaseSync } from 'node:sqlite';
import type { Reading, SeriesId } from '#domain/reading/reading.ts';
import type { ReadingStore, Segment, Span } from '#domain/reading/store.ts';
import { composeView } from '#domain/reading/view.ts';
import { StoreFailure } from '../failure.ts';
import { inTransaction } from '../sqlite/transaction.ts';
import { joined, remotePart, viewSource, type Shelf } from './answers.ts';
import type { InfluxClient, InfluxRow } from './client.ts';
import type { Outbox } from './outbox.ts';
import { readingOfRow, type Statements } from './statements.ts';

export interface InfluxReaderParts {
  readonly database: DatabaseSync;
  readonly outbox: Outbox;
  readonly client: InfluxClient;
  readonly statements: Statements;
}

/**
 * Answers out of the outbox and InfluxDB. The outbox is read first, in one unchanging state: what is sent meanwhile is then met in both
 * and counted once. InfluxDB is asked only about the time before what the outbox has whole.
 */
export const createInfluxReader = ({ database, outbox, client, statements }: InfluxReaderParts): Pick<ReadingStore, 'latest' | 'recent' | 'raw' | 'view' | 'summaries'> => {
  const look = <Value>(work: () => Value): Value => inTransaction(database, 'DEFERRED', work);
  const rowsOf = async (statement: string): Promise<readonly InfluxRow[]> => (await client.query([statement]))[0]?.[0]?.values ?? [];

  const shelfOf = (series: SeriesId, span: Span): Shelf | null => {
    const known = outbox.known(series);
    if (known === null) return null;
    return { known, whole: outbox.between(known, Math.max(span.from, known.wholeFrom), span.to), unsent: outbox.unsent(known, span.from, Math.min(span.to, known.wholeFrom)) };
  };
  const shelvesOf = (segments: readonly Segment[], span: Span): ReadonlyMap<SeriesId, Shelf> => {
    const shelves = new Map<SeriesId, Shelf>();
    for (const series of new Set(segments.map((segment) => segment.series))) {
      const mine = segments.filter((segment) => segment.series === series);
      const shelf = shelfOf(series, { from: Math.max(span.from, Math.min(...mine.map(({ from }) => from))), to: Math.min(span.to, Math.max(...mine.map(({ to }) => to))) });
      if (shelf !== null) shelves.set(series, shelf);
    }
    return shelves;
  };

  return {
    latest: async (series) => {
      const known = series === undefined ? outbox.all() : series.flatMap((each) => outbox.known(each) ?? []);
      return new Map(known.map((each) => [each.series, each.last]));
    },
    recent: async (series, count, before = Infinity) => {
      const most = Math.max(0, Math.floor(count));
      const found = look(() => {
        const known = outbox.known(series);
        return known === null ? null : { known, here: outbox.lastBefore(known, before, known.wholeFrom, most).toReversed(), unsent: outbox.unsent(known, -Infinity, Math.min(before, known.wholeFrom)) };
      });
      if (found === null || most === 0) return [];
      const { known, here, unsent } = found;
      const part = remotePart(known, { from: -Infinity, to: before });
      if (part === null || here.length === most) return here;
      const older = (await rowsOf(statements.last(series, part, most - here.length)).catch(onlyHere)).map((row) => readingOfRow(series, row)).toReversed();
      return [...joined(older, unsent), ...here].slice(-most);
    },
    raw: async (series, span, limit) => {
      const most = Math.max(0, limit);
      const shelf = look(() => shelfOf(series, span));
      if (shelf === null || most === 0 || span.from >= span.to) return [];
      const part = remotePart(shelf.known, span);
      const older: readonly Reading[] = part === null ? [] : (await rowsOf(statements.first(series, part, most))).map((row) => readingOfRow(series, row));
      return [...joined(older, shelf.unsent), ...shelf.whole].slice(0, most);
    },
    view: async (segments, span, points) => {
      const shelves = look(() => shelvesOf(segments, span));
      const answers = new Map<string, readonly InfluxRow[]>();
      for (;;) {
        const missing = new Set<string>();
        const source = viewSource(shelves, statements, (statement) => {
          const rows = answers.get(statement);
          if (rows === undefined) missing.add(statement);
          return rows ?? null;
        });
        const view = composeView(source, segments, span, points);
        if (missing.size === 0) return view;
        const asked = [...missing];
        const told = await client.query(asked);
        for (const [index, statement] of asked.entries()) answers.set(statement, told[index]?.[0]?.values ?? []);
      }
    },
    summaries: async () => outbox.all().map(({ series, stored, first, last }) => ({ series, count: stored, first, last })),
  };
};

/** What is now must be told also while InfluxDB is away: the readings that are here then stand for all. */
const onlyHere = (error: unknown): readonly InfluxRow[] => {
  if (error instanceof StoreFailure && error.code === 'unreachable') return [];
  throw error;
};
