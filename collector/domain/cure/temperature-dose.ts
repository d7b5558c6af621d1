import type { EpochMs } from '../units/time.ts';
import { dayMs } from '../units/time.ts';
import { arrheniusFactor } from './arrhenius.ts';

export interface TemperatureReading {
  readonly t: EpochMs;
  readonly temperatureC: number;
}

/**
 * A temperature history turned into days at 20 °C, for one activation energy.
 *
 * D(t) = ∫ k(T)/k(20 °C) dt, so that Λ = kL · D for any kL: a history is integrated once and used for every rate.
 * Trapezoid on k, not on T, because k is what the model integrates and it is far from linear in T.
 * Before the first reading its temperature is held; after the last, `laterC` is assumed. Two readings at one time make a step.
 *
 * Source: Arrhenius equation. Units: readings in °C, dose in days at 20 °C.
 * Example: 10 days at 10 °C with 40 kJ/mol are 5.60 days at 20 °C.
 */
export interface TemperatureDose {
  /** Dose from the start to a time; negative before the start. */
  readonly until: (at: EpochMs) => number;
}

export const temperatureDose = (
  readings: readonly TemperatureReading[],
  activationEnergyKjPerMol: number,
  start: EpochMs,
  laterC: number,
): TemperatureDose => {
  const count = readings.length;
  const times = new Float64Array(count);
  const rates = new Float64Array(count);
  const sums = new Float64Array(count);
  // Probes repeat themselves: the exponential is worked out again only when the temperature has changed.
  let temperatureC = Number.NaN;
  let rate = 1;
  let sum = 0;
  for (let i = 0; i < count; i++) {
    const reading = readings[i] as TemperatureReading;
    if (reading.temperatureC !== temperatureC) {
      temperatureC = reading.temperatureC;
      rate = arrheniusFactor(temperatureC, activationEnergyKjPerMol);
    }
    if (i > 0) sum += ((reading.t - (times[i - 1] as number)) * (rate + (rates[i - 1] as number))) / 2;
    times[i] = reading.t;
    rates[i] = rate;
    sums[i] = sum;
  }
  const laterRate = arrheniusFactor(laterC, activationEnergyKjPerMol);

  const sumAt = (at: EpochMs): number => {
    if (count === 0) return (at - start) * laterRate;
    const first = times[0] as number;
    if (at <= first) return (at - first) * (rates[0] as number);
    const last = times[count - 1] as number;
    if (at >= last) return sum + (at - last) * laterRate;
    let low = 0;
    let high = count - 1;
    while (high - low > 1) {
      const middle = (low + high) >>> 1;
      if ((times[middle] as number) <= at) low = middle;
      else high = middle;
    }
    const elapsed = at - (times[low] as number);
    const slope = ((rates[high] as number) - (rates[low] as number)) / ((times[high] as number) - (times[low] as number));
    return (sums[low] as number) + elapsed * ((rates[low] as number) + (slope * elapsed) / 2);
  };
  const before = sumAt(start);
  return { until: (at) => (sumAt(at) - before) / dayMs };
};
