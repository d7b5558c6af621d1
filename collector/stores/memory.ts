import type { Reading, SeriesId } from '#domain/reading/reading.ts';
import { addValue, levelStart, rollupLevels, startRollup, type RollupDraft, type RollupLevel } from '#domain/reading/rollup.ts';
import { appended, type AppendOutcome, type ReadingStore } from '#domain/reading/store.ts';
import { composeView, type ViewSource } from '#domain/reading/view.ts';
import { StoreFailure } from './failure.ts';
import { Sorted } from './sorted.ts';
import { asStored, requireSeries, requireStorable } from './storable.ts';

interface SeriesShelf {
  readonly readings: Sorted<Reading>;
  readonly rollups: Readonly<Record<RollupLevel, Sorted<RollupDraft>>>;
}

/**
 * Readings for as long as the process lives: for tests, trials and a shed simulated on the fly. Passes the same suite as the stores
 * on disk. May import the domain.
 */
export const createMemoryStore = (): ReadingStore => {
  const shelves = new Map<SeriesId, SeriesShelf>();
  let isOpen = true;

  const shelfOf = (series: SeriesId): SeriesShelf => {
    let shelf = shelves.get(series);
    if (shelf === undefined) shelves.set(series, (shelf = { readings: new Sorted(), rollups: { '10min': new Sorted(), '6h': new Sorted() } }));
    return shelf;
  };

  const store = (reading: Reading): number => {
    const { readings, rollups } = shelfOf(reading.series);
    const first = readings.get(reading.at);
    if (first !== undefined) return first.value === reading.value ? appended.duplicate : appended.conflict;
    readings.add(reading.at, reading);
    if (reading.quality === 'good') {
      for (const level of rollupLevels) {
        const from = levelStart(reading.at, level);
        const rollup = rollups[level].get(from) ?? startRollup(from);
        if (rollup.count === 0) rollups[level].add(from, rollup);
        addValue(rollup, reading.value);
      }
    }
    return appended.stored;
  };

  const append = (readings: readonly Reading[]): AppendOutcome => {
    // Everything is checked before anything is stored: a batch goes in whole or not at all.
    requireStorable(readings);
    for (const { series } of readings) requireSeries(series);
    const outcomes = Uint8Array.from(readings, (reading) => store(asStored(reading)));
    const count = (outcome: number) => outcomes.reduce((total, each) => total + (each === outcome ? 1 : 0), 0);
    return { outcomes, stored: count(appended.stored), duplicates: count(appended.duplicate), conflicts: count(appended.conflict) };
  };

  const source: ViewSource = {
    extent: (series) => {
      const readings = shelves.get(series)?.readings;
      const first = readings?.at(0);
      const last = readings?.at(-1);
      return first === undefined || last === undefined ? null : { from: first.at, to: last.at + 1 };
    },
    countReadings: (series, { from, to }) => {
      const readings = shelves.get(series)?.readings;
      return readings === undefined ? 0 : Math.max(0, readings.indexOf(to) - readings.indexOf(from));
    },
    goodReadings: (series, { from, to }) =>
      (shelves.get(series)?.readings.between(from, to) ?? [])
        .filter(({ quality }) => quality === 'good')
        .map(({ at, value }) => ({ from: at, to: at, count: 1, sum: value, min: value, max: value })),
    rollups: (series, level, { from, to }) => shelves.get(series)?.rollups[level].between(from, to) ?? [],
  };

  const answer = async <Value>(work: () => Value): Promise<Value> => {
    if (!isOpen) throw new StoreFailure('closed');
    return work();
  };

  return {
    append: (readings) => answer(() => append(readings)),
    latest: (wanted = [...shelves.keys()]) =>
      answer(() => {
        const newest = new Map<SeriesId, Reading>();
        for (const series of wanted) {
          const last = shelves.get(series)?.readings.at(-1);
          if (last !== undefined) newest.set(series, last);
        }
        return newest;
      }),
    recent: (series, count, before = Infinity) => answer(() => shelves.get(series)?.readings.lastBefore(before, count) ?? []),
    raw: (series, { from, to }, limit) => answer(() => shelves.get(series)?.readings.between(from, to, limit) ?? []),
    view: (segments, span, points) => answer(() => composeView(source, segments, span, points)),
    summaries: () =>
      answer(() =>
        [...shelves].toSorted(([one], [other]) => (one < other ? -1 : 1)).flatMap(([series, { readings }]) => {
          const first = readings.at(0);
          const last = readings.at(-1);
          return first === undefined || last === undefined ? [] : [{ series, count: readings.size, first, last }];
        }),
      ),
    close: async () => {
      isOpen = false;
    },
  };
};
