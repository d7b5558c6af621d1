import { kelvinOffset } from '../cure/arrhenius.ts';
import type { Result } from '../result.ts';
import { ok } from '../result.ts';
import type { OutsideValidRange, ValidRange } from '../valid-range.ts';
import { findOutside, outsideValidRange } from '../valid-range.ts';
import type { SensorFault } from './fault.ts';
import { sensorFault } from './fault.ts';

/** The three numbers of the Steinhart-Hart equation, for ohms and kelvin. */
export interface ThermistorCoefficients {
  readonly a: number;
  readonly b: number;
  readonly c: number;
}

export interface ThermistorPoint {
  readonly ohm: number;
  readonly temperatureC: number;
}

export const thermistorRange: ValidRange = { low: -50, high: 150, unit: '°C' };

/**
 * Temperature of a thermistor.
 *
 * 1/T = a + b·ln R + c·(ln R)³, T in kelvin, R in ohms.
 *
 * Source: Steinhart and Hart 1968. Good to 0.01 °C within 100 °C of its points. 0 Ω or a few is a short, infinite or tens of megohms an open
 * circuit: faults, where the equation would give a hot or a cold number. Valid range of the answer: -50 to 150 °C.
 * Example: a 1.129148e-3, b 2.34125e-4, c 8.76741e-8 (a common 10 kΩ type) and 12490 Ω give 20.006 °C.
 */
export const thermistorTemperatureC = (ohm: number, coefficients: ThermistorCoefficients): Result<number, SensorFault | OutsideValidRange> => {
  if (Number.isNaN(ohm) || ohm < 0) return outsideValidRange('ohm', 'ohm must be 0 or more');
  for (const field of ['a', 'b', 'c'] as const) {
    if (!Number.isFinite(coefficients[field])) return outsideValidRange(field, `${field} must be a finite number`);
  }
  if (ohm < shortOhm) return sensorFault('short');
  if (ohm > openOhm) return sensorFault('open');
  const { a, b, c } = coefficients;
  const log = Math.log(ohm);
  const temperatureC = 1 / (a + b * log + c * log ** 3) - kelvinOffset;
  if (!(temperatureC >= thermistorRange.low && temperatureC <= thermistorRange.high)) return sensorFault('out-of-range');
  return ok(temperatureC);
};

const shortOhm = 10;
const openOhm = 2e7;

/**
 * Coefficients from three points, exactly.
 *
 * With L = ln R and Y = 1/T: divided differences g₂ = (Y₂ - Y₁)/(L₂ - L₁), g₃ = (Y₃ - Y₁)/(L₃ - L₁);
 * c = (g₃ - g₂)/((L₃ - L₂)(L₁ + L₂ + L₃)); b = g₂ - c(L₁² + L₁L₂ + L₂²); a = Y₁ - (b + c L₁²)L₁.
 *
 * Source: Steinhart and Hart 1968, three equations solved. Best with one point at each end of the range and one in the middle, as ice
 * water, shed and 40 °C. Valid range: three points at least 5 °C apart, -50 to 150 °C, resistance falling as it warms. Field `calibration`.
 * Example: 32650 Ω at 0, 10000 Ω at 25 and 5327 Ω at 40 °C give 20.00 °C at 12490 Ω.
 */
export const fitThermistor = (calibration: readonly ThermistorPoint[]): Result<ThermistorCoefficients, OutsideValidRange> => {
  const refuse = (what: string): { readonly ok: false; readonly error: OutsideValidRange } => outsideValidRange('calibration', `calibration ${what}`);
  const points = calibration.toSorted((p, q) => p.temperatureC - q.temperatureC);
  const [first, second, third] = points;
  if (first === undefined || second === undefined || third === undefined || points.length !== 3) return refuse('must be three points');
  const ranges = { ohm: { low: shortOhm, high: openOhm, unit: 'Ω' }, temperatureC: thermistorRange };
  for (const { ohm, temperatureC } of points) {
    if (findOutside({ ohm, temperatureC }, ranges) !== null) return refuse('points must be 10 Ω to 20 MΩ and -50 to 150 °C');
  }
  if (second.temperatureC - first.temperatureC < 5 || third.temperatureC - second.temperatureC < 5) return refuse('points must be at least 5 °C apart');
  if (!(first.ohm > second.ohm && second.ohm > third.ohm)) return refuse('points must fall in resistance as they warm');
  const [l1, l2, l3] = [Math.log(first.ohm), Math.log(second.ohm), Math.log(third.ohm)] as const;
  const [y1, y2, y3] = [1 / (first.temperatureC + kelvinOffset), 1 / (second.temperatureC + kelvinOffset), 1 / (third.temperatureC + kelvinOffset)] as const;
  const g2 = (y2 - y1) / (l2 - l1);
  const g3 = (y3 - y1) / (l3 - l1);
  const c = (g3 - g2) / ((l3 - l2) * (l1 + l2 + l3));
  const b = g2 - c * (l1 * l1 + l1 * l2 + l2 * l2);
  return ok({ a: y1 - (b + c * l1 * l1) * l1, b, c });
};

export const thermistorSource = 'Steinhart and Hart 1968';
