import type { TemperatureReading } from '../cure/temperature-dose.ts';
import type { EpochMs } from '../units/time.ts';

/** The temperature at a time, straight between readings (oldest first) and held at both ends; NaN without any. */
export const valueAt = (readings: readonly TemperatureReading[], at: EpochMs): number => {
  let low = 0;
  let high = readings.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if ((readings[middle] as TemperatureReading).t <= at) low = middle + 1;
    else high = middle;
  }
  const before = readings[low - 1];
  const after = readings[low];
  if (before === undefined) return after?.temperatureC ?? Number.NaN;
  if (after === undefined) return before.temperatureC;
  return before.temperatureC + ((after.temperatureC - before.temperatureC) * (at - before.t)) / (after.t - before.t);
};
