import type { Result } from '../result.ts';
import { ok } from '../result.ts';
import type { OutsideValidRange } from '../valid-range.ts';
import { findOutside, outsideValidRange } from '../valid-range.ts';
import type { TemperatureSpan } from './temperature-span.ts';
import { hoursRange, temperatureRange, totalHours } from './temperature-span.ts';

/**
 * Temperature of a drum after some hours in air that warms or cools steadily (Newton's law of cooling).
 *
 * dT/dt = (T_air - T)/τ with T_air = a + s t has the exact solution
 * T(t) = a + s (t - τ) + (T_0 - a + s τ) e^(-t/τ).
 *
 * Source: Newton's law of cooling. Lumped: a packed bed lags in its core (Biot number about 0.6 to 1.5 by conduction alone).
 * Units: °C, h, °C/h. Valid range: τ > 0, t ≥ 0.
 * Example: 100 °C in a room at 20 °C that falls to 80 °C in 5 min is at 65 °C after 10 min.
 */
export const drumTemperature = (startC: number, airC: number, airChangePerHour: number, hours: number, timeConstantHours: number): number =>
  airC + airChangePerHour * (hours - timeConstantHours) + (startC - airC + airChangePerHour * timeConstantHours) * Math.exp(-hours / timeConstantHours);

export interface DrumPoint {
  readonly hours: number;
  readonly temperatureC: number;
}

export interface DrumWarming {
  readonly startC: number;
  readonly timeConstantHours: number;
  /** Air over the time ahead; the last value is held when it ends before `hours`. */
  readonly air: readonly TemperatureSpan[];
  readonly hours: number;
}

export const timeConstantRange = { low: 0.1, high: 500, unit: 'h' } as const;

/** Visits each stretch of air with the temperature the drum starts it with; stops when `visit` says so. */
export const walkDrum = (
  { startC, timeConstantHours, air, hours }: DrumWarming,
  visit: (atHours: number, startC: number, span: TemperatureSpan) => boolean,
): void => {
  let at = 0;
  let temperatureC = startC;
  const last = air.at(-1);
  const held = last === undefined ? [] : [{ hours: Math.max(0, hours - totalHours(air)), fromC: last.toC, toC: last.toC }];
  for (const span of [...air, ...held]) {
    const length = Math.min(span.hours, hours - at);
    if (length <= 0) continue;
    const slope = (span.toC - span.fromC) / span.hours;
    if (!visit(at, temperatureC, { hours: length, fromC: span.fromC, toC: span.fromC + slope * length })) return;
    temperatureC = drumTemperature(temperatureC, span.fromC, slope, length, timeConstantHours);
    at += length;
  }
};

/** The drum's temperature over the hours ahead, a point every `stepHours` and one at the end. */
export const drumWarming = (
  warming: DrumWarming,
  stepHours = 1,
): Result<{ readonly temperatureC: number; readonly curve: readonly DrumPoint[] }, OutsideValidRange> => {
  const { startC, timeConstantHours, hours, air } = warming;
  const outside = findOutside(
    { startC, timeConstantHours, hours, stepHours },
    { startC: temperatureRange, timeConstantHours: timeConstantRange, hours: hoursRange, stepHours: { low: 0.01, high: 1_000, unit: 'h' } },
  );
  if (outside !== null) return outside;
  if (air.length === 0) return outsideValidRange('air', 'air must hold at least one temperature');
  if (hours / stepHours > mostPoints) return outsideValidRange('hours', `hours must be at most ${mostPoints} steps`);
  const curve: DrumPoint[] = [{ hours: 0, temperatureC: startC }];
  walkDrum(warming, (at, from, span) => {
    const slope = (span.toC - span.fromC) / span.hours;
    const end = at + span.hours;
    for (let next = curve.length * stepHours; next < end || (next === end && end < hours); next = curve.length * stepHours) {
      curve.push({ hours: next, temperatureC: drumTemperature(from, span.fromC, slope, next - at, timeConstantHours) });
    }
    if (end >= hours) curve.push({ hours, temperatureC: drumTemperature(from, span.fromC, slope, span.hours, timeConstantHours) });
    return true;
  });
  return ok({ temperatureC: curve.at(-1)?.temperatureC ?? startC, curve });
};

const mostPoints = 20_000;
