import type { TemperatureReading } from '../cure/temperature-dose.ts';
import { minuteMs, type EpochMs } from '../units/time.ts';

export const binMs = 10 * minuteMs;

/** Readings (oldest first) as means over ten minutes of the clock, at the middle of each; a bin without a reading is left out. */
export const tenMinuteMeans = (readings: readonly { readonly t: EpochMs; readonly mean: number; readonly count: number }[]): readonly TemperatureReading[] => {
  const means: TemperatureReading[] = [];
  let [bin, sum, count] = [Number.NaN, 0, 0];
  const close = (): void => {
    if (count > 0) means.push({ t: bin * binMs + binMs / 2, temperatureC: sum / count });
  };
  for (const reading of readings) {
    const own = Math.floor(reading.t / binMs);
    if (own !== bin) {
      close();
      [bin, sum, count] = [own, 0, 0];
    }
    sum += reading.mean * reading.count;
    count += reading.count;
  }
  close();
  return means;
};
