import type { EpochMs } from '../units/time.ts';
import type { TemperatureReading } from './temperature-dose.ts';

/**
 * Mean of uneven readings from a time on, each stretch between two readings weighted by its length (trapezoid).
 *
 * mean = Σ (t_{i+1} - t_i) (x_i + x_{i+1}) / 2 / Σ (t_{i+1} - t_i)
 *
 * Source: trapezoid rule. A single reading is its own mean; NaN without readings. Readings oldest first.
 * Example: 10 °C at 0 h, 20 °C at 1 h, 20 °C at 3 h gives 18.33 °C; the plain mean of the three, 16.67, would be wrong.
 */
export const timeWeightedMeanC = (readings: readonly TemperatureReading[], from: EpochMs = -Infinity): number => {
  let sum = 0;
  let span = 0;
  for (let i = readings.length - 1; i > 0; i--) {
    const before = readings[i - 1] as TemperatureReading;
    if (before.t < from) break;
    const after = readings[i] as TemperatureReading;
    sum += ((after.t - before.t) * (before.temperatureC + after.temperatureC)) / 2;
    span += after.t - before.t;
  }
  return span > 0 ? sum / span : (readings.at(-1)?.temperatureC ?? Number.NaN);
};
