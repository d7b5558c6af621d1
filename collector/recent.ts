import type { Reading, SeriesId } from '#domain/reading/reading.ts';

/** The last readings of each series, as the collector has just stored them: enough to say what is now and how fast it changes. */
export interface Recent {
  take(readings: readonly Reading[]): void;
  of(series: SeriesId): readonly Reading[];
}

export const recentCount = 10;

export const createRecent = (): Recent => {
  const kept = new Map<SeriesId, Reading[]>();
  return {
    take: (readings) => {
      for (const reading of readings) {
        let last = kept.get(reading.series);
        if (last === undefined) kept.set(reading.series, (last = []));
        // A late reading belongs to the past; here only the newest count.
        const newest = last.at(-1);
        if (newest !== undefined && reading.at <= newest.at) continue;
        last.push(reading);
        if (last.length > recentCount) last.shift();
      }
    },
    of: (series) => kept.get(series) ?? [],
  };
};
