import type { Reading, SeriesId } from '#domain/reading/reading.ts';
import type { EpochMs } from '#domain/units/time.ts';

/**
 * The last look at readings before they wait for the store.
 * A plain number has no time of its own: two of one series that arrive in the same millisecond get two times, so that both are kept.
 * New series are taken in until there are `mostSeries`; a sender that invents names without end cannot fill the disk with them.
 */
export interface Admission {
  /** What may be stored; `refused` says how many were not. */
  admit(readings: readonly Reading[], arrivedAt: EpochMs): { readonly readings: readonly Reading[]; readonly refused: number };
}

export const mostSeries = 5_000;

export const createAdmission = (known: Iterable<SeriesId>): Admission => {
  const lastArrival = new Map<SeriesId, EpochMs>();
  for (const series of known) lastArrival.set(series, 0);

  const isKnown = (series: SeriesId): boolean => {
    if (lastArrival.has(series)) return true;
    if (lastArrival.size >= mostSeries) return false;
    lastArrival.set(series, 0);
    return true;
  };

  return {
    admit: (readings, arrivedAt) => {
      const admitted: Reading[] = [];
      for (const reading of readings) {
        const { series } = reading;
        if (!isKnown(series)) continue;
        if (reading.at !== arrivedAt) {
          admitted.push(reading);
          continue;
        }
        const at = Math.max(arrivedAt, (lastArrival.get(series) ?? 0) + 1);
        lastArrival.set(series, at);
        admitted.push(at === arrivedAt ? reading : { ...reading, at });
      }
      return { readings: admitted, refused: readings.length - admitted.length };
    },
  };
};
