import { drumWarming } from '../cure/drum-warming.ts';
import type { TemperatureSpan } from '../cure/temperature-span.ts';
import type { DrumResponse } from './drum-response.ts';

export interface AheadPoint {
  readonly hours: number;
  readonly temperatureC: number;
  readonly low: number;
  readonly high: number;
}

export interface DrumAheadInput {
  readonly startC: number;
  readonly response: DrumResponse;
  readonly air: readonly TemperatureSpan[];
  readonly airError: AirError;
  readonly hours: number;
}

/** How far the level of the air may be off, and within how many hours it comes to be so. */
export interface AirError {
  readonly sdC: number;
  readonly withinHours: number;
}

/** Where somebody typed what to expect (assumption): a forecast is a degree off, and so already today. */
export const enteredAirError: AirError = { sdC: 0.9, withinHours: 6 };
/** Where the last day is taken again: the weather drifts away from it, as it did lately (`dayToDaySdC`). */
export const repeatedAirError = (sdC: number): AirError => ({ sdC, withinHours: 24 });

/**
 * The drum's course through the air ahead, with the band in which it lies four times out of five.
 *
 * σ² = σ_r² + [½(T(τ e^s) - T(τ e^-s))]² + (σ_a² (1 - e^(-t/h_a)) + σ_o²)(1 - e^(-t/τ))²: what the model misses, the error of
 * the time constant, and that of the air's level, which grows with the hours, and of the drum's offset from it; both reach the drum as a
 * step does. Band: T ± 1.2816 σ.
 *
 * Source: Newton's law of cooling; first-order error propagation, errors taken as independent. Units: °C, h. Valid range: as `drumWarming`.
 * Example: at 20 °C, τ 10 h, air steady at 30 °C ± 1.5 within 24 h (nothing else in doubt): after 10 h 26.3 °C, 25.6 to 27.0.
 */
export const drumAhead = ({ startC, response, air, airError, hours }: DrumAheadInput): readonly AheadPoint[] => {
  const { timeConstantHours: tau, logSd, offsetC, offsetSdC, residualSdC } = response;
  const shifted = air.map((span) => ({ ...span, fromC: span.fromC + offsetC, toC: span.toC + offsetC }));
  const course = (timeConstantHours: number): readonly number[] => {
    const run = drumWarming({ startC, timeConstantHours, air: shifted, hours }, stepHours);
    return run.ok ? run.value.curve.map(({ temperatureC }) => temperatureC) : [];
  };
  const middle = course(tau);
  const [slow, fast] = [course(tau * Math.exp(logSd)), course(tau * Math.exp(-logSd))];
  return middle.map((temperatureC, index) => {
    const at = Math.min(hours, index * stepHours);
    const reached = 1 - Math.exp(-at / tau);
    const half = bandZ * Math.hypot(residualSdC, ((slow[index] ?? temperatureC) - (fast[index] ?? temperatureC)) / 2, Math.hypot(airError.sdC * Math.sqrt(1 - Math.exp(-at / airError.withinHours)), offsetSdC) * reached);
    return { hours: at, temperatureC, low: temperatureC - half, high: temperatureC + half };
  });
};

const stepHours = 0.5;
/** Four fifths of a normal distribution lie within this many standard deviations. */
const bandZ = 1.2816;
