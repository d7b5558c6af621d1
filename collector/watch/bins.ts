import type { TemperatureReading } from '#domain/cure/temperature-dose.ts';
import { binMs } from '#domain/heat/ten-minute-means.ts';
import { hourMs, type EpochMs } from '#domain/units/time.ts';

/** Two days: what the shape of the last day and the fit of a drum are made from. */
export const keptMs = 48 * hourMs;
const size = keptMs / binMs;

/** A ring of ten-minute means of one series, of the same size however often it speaks. */
export interface Bins {
  add(at: EpochMs, sum: number, count: number): void;
  /** Means of whole bins in a span, oldest first, at the middle of each. */
  means(from: EpochMs, to: EpochMs): readonly TemperatureReading[];
}

export const createBins = (): Bins => {
  const sums = new Float64Array(size);
  const counts = new Uint32Array(size);
  /** Which bin of the clock a place of the ring holds. */
  const held = new Float64Array(size).fill(-1);
  return {
    add: (at, sum, count) => {
      const bin = Math.floor(at / binMs);
      const place = bin % size;
      if ((held[place] ?? -1) > bin) return;
      if (held[place] !== bin) [held[place], sums[place], counts[place]] = [bin, 0, 0];
      sums[place] = (sums[place] ?? 0) + sum;
      counts[place] = (counts[place] ?? 0) + count;
    },
    means: (from, to) => {
      const means: TemperatureReading[] = [];
      for (let bin = Math.max(Math.ceil(from / binMs), Math.floor(to / binMs) - size); bin < Math.floor(to / binMs); bin += 1) {
        const place = bin % size;
        const count = counts[place] ?? 0;
        if (held[place] === bin && count > 0) means.push({ t: bin * binMs + binMs / 2, temperatureC: (sums[place] ?? 0) / count });
      }
      return means;
    },
  };
};
