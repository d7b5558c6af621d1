import type { OutsideValidRange } from '../valid-range.ts';
import { findOutside, outsideValidRange } from '../valid-range.ts';
import type { Result } from '../result.ts';
import { ok } from '../result.ts';
import { hourMs } from '../units/time.ts';
import type { TemperatureReading } from './temperature-dose.ts';

/** A stretch of time over which temperature goes straight from one value to another. */
export interface TemperatureSpan {
  readonly hours: number;
  readonly fromC: number;
  readonly toC: number;
}

/** A stretch at one temperature, as a person writes it down. */
export interface TemperaturePart {
  readonly hours: number;
  readonly temperatureC: number;
}

export const temperatureRange = { low: -40, high: 100, unit: '°C' } as const;
export const hoursRange = { low: 0, high: 200_000, unit: 'h' } as const;

/** Parts as spans, each part and the sum of hours checked. */
export const spansOfParts = (parts: readonly TemperaturePart[]): Result<readonly TemperatureSpan[], OutsideValidRange> => {
  const spans: TemperatureSpan[] = [];
  for (const [i, { hours, temperatureC }] of parts.entries()) {
    const outside = findOutside(
      { [`parts.${i}.hours`]: hours, [`parts.${i}.temperatureC`]: temperatureC },
      { [`parts.${i}.hours`]: hoursRange, [`parts.${i}.temperatureC`]: temperatureRange },
    );
    if (outside !== null) return outside;
    spans.push({ hours, fromC: temperatureC, toC: temperatureC });
  }
  return totalHours(spans) > 0 ? ok(spans) : outsideValidRange('parts', 'parts must hold some hours');
};

export const totalHours = (spans: readonly TemperatureSpan[]): number => spans.reduce((sum, span) => sum + span.hours, 0);

/**
 * Uneven readings (oldest first) as spans, straight from one reading to the next. A gap longer than `longestGapHours` is left out, so
 * that what was not measured weighs nothing; its hours are told.
 */
export const spansOfReadings = (
  readings: readonly TemperatureReading[],
  longestGapHours = 6,
): { readonly spans: readonly TemperatureSpan[]; readonly gapHours: number } => {
  const spans: TemperatureSpan[] = [];
  let gapHours = 0;
  for (let i = 1; i < readings.length; i++) {
    const from = readings[i - 1] as TemperatureReading;
    const to = readings[i] as TemperatureReading;
    const hours = (to.t - from.t) / hourMs;
    if (hours > longestGapHours) gapHours += hours;
    else spans.push({ hours, fromC: from.temperatureC, toC: to.temperatureC });
  }
  return { spans, gapHours };
};
