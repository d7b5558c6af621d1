import type { SeriesId } from '#domain/reading/reading.ts';
import type { EpochMs } from '#domain/units/time.ts';
import { hourMs } from '#domain/units/time.ts';
import type { InfluxClient } from './client.ts';
import type { StoredValues } from './outbox-writer.ts';
import type { Statements } from './statements.ts';

/** Times nearer to each other than this are asked about in one stretch. */
const stretchMs = hourMs;
/** Stretches a request asks about; a request of many is long, and InfluxDB reads its parts one after the other. */
const mostStretches = 200;

/** What InfluxDB has at certain times of certain series: the only way to know, for it would take a second value in place of the first. */
export const askStoredValues = async (client: InfluxClient, statements: Statements, asked: ReadonlyMap<SeriesId, ReadonlySet<EpochMs>>): Promise<StoredValues> => {
  const stretches = [...asked].flatMap(([series, times]) => stretchesOf([...times]).map((span) => ({ series, statement: statements.first(series, span, Infinity) })));
  const found = new Map<SeriesId, Map<EpochMs, number>>();
  for (let begin = 0; begin < stretches.length; begin += mostStretches) {
    const part = stretches.slice(begin, begin + mostStretches);
    const answers = await client.query(part.map(({ statement }) => statement));
    for (const [index, { series }] of part.entries()) {
      const values = found.get(series) ?? new Map<EpochMs, number>();
      found.set(series, values);
      for (const [at, value] of answers[index]?.[0]?.values ?? []) if (asked.get(series)?.has(Number(at)) === true) values.set(Number(at), Number(value));
    }
  }
  return found;
};

const stretchesOf = (times: readonly EpochMs[]): readonly { readonly from: EpochMs; readonly to: EpochMs }[] => {
  const stretches: { from: EpochMs; to: EpochMs }[] = [];
  for (const at of times.toSorted((one, other) => one - other)) {
    const last = stretches.at(-1);
    if (last !== undefined && at - last.to < stretchMs) last.to = at + 1;
    else stretches.push({ from: at, to: at + 1 });
  }
  return stretches;
};
