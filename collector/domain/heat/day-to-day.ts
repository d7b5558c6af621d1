import type { TemperatureReading } from '../cure/temperature-dose.ts';
import { dayMs, type EpochMs } from '../units/time.ts';

/**
 * How much the mean air of a day differs from that of the day before, here and lately.
 *
 * s² = (3 s_0² + Σ d²)/(3 + n) over the last seven days: what is usual (s_0 = 1.5 °C, assumption) counts as three days seen.
 *
 * Source: mean of squares with a prior (textbook). Units: °C. Days with less than half of their hours are left out.
 * Example: no day seen yet: 1.5; six differences of 0.5 °C: 0.96.
 */
export const dayToDaySdC = (air: readonly TemperatureReading[], now: EpochMs): number => {
  const means: (number | null)[] = [];
  for (let day = 0; day < days; day += 1) {
    const values = air.filter(({ t }) => t > now - (day + 1) * dayMs && t <= now - day * dayMs).map(({ temperatureC }) => temperatureC);
    means.push(values.length < leastMeans ? null : values.reduce((sum, value) => sum + value, 0) / values.length);
  }
  const squares = means.slice(1).flatMap((mean, index) => {
    const later = means[index];
    return mean === null || later == null ? [] : [(later - mean) ** 2];
  });
  return Math.sqrt((priorDays * usualC ** 2 + squares.reduce((sum, square) => sum + square, 0)) / (priorDays + squares.length));
};

const days = 7;
const priorDays = 3;
const usualC = 1.5;
/** Half a day of ten-minute means. */
const leastMeans = 72;
