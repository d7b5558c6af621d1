import type { Result } from '../result.ts';
import { ok } from '../result.ts';
import { bisectRising } from '../stats/bisect.ts';
import type { OutsideValidRange, ValidRange } from '../valid-range.ts';
import { findOutside } from '../valid-range.ts';
import type { SensorFault } from './fault.ts';
import { sensorFault } from './fault.ts';

export const pt100Ranges = {
  temperatureC: { low: -200, high: 850, unit: '°C' },
  ohm: { low: 18.52, high: 390.4812, unit: 'Ω' },
} as const satisfies Record<string, ValidRange>;

/**
 * Resistance of a Pt100 at a temperature.
 *
 * R = 100·(1 + A t + B t² + C (t - 100) t³), A 3.9083e-3, B -5.775e-7, C -4.183e-12 below 0 °C and 0 above.
 *
 * Source: IEC 60751:2008. The older C of -4.2735e-12 (for A 3.90802e-3) still goes round and is not this curve.
 * Valid range: -200 to 850 °C. Example: 20 °C gives 107.79 Ω, -40 °C 84.27 Ω.
 */
export const pt100Ohm = (temperatureC: number): Result<number, OutsideValidRange> =>
  findOutside({ temperatureC }, { temperatureC: pt100Ranges.temperatureC }) ?? ok(curve(temperatureC));

const a = 3.9083e-3;
const b = -5.775e-7;
const curve = (t: number): number => 100 * (1 + a * t + b * t * t + (t < 0 ? -4.183e-12 * (t - 100) * t * t * t : 0));

/**
 * Temperature from the resistance of a Pt100, leads taken off.
 *
 * t = [-A + √(A² - 4B(1 - R/100))] / 2B from 100 Ω up; below, the curve is solved numerically.
 *
 * Source: IEC 60751:2008 turned round. Below the curve is a short, above it an open circuit: faults, not temperatures.
 * Example: 107.79 Ω gives 19.99 °C; a lead of 0.4 Ω on a two-wire probe reads 1 °C too warm.
 */
export const pt100TemperatureC = (ohm: number): Result<number, SensorFault | OutsideValidRange> => {
  const outside = findOutside({ ohm }, { ohm: { low: 0, high: Infinity, unit: 'Ω' } });
  if (outside !== null) return outside;
  if (ohm < pt100Ranges.ohm.low) return sensorFault('short');
  if (ohm > pt100Ranges.ohm.high) return sensorFault('open');
  if (ohm < 100) return ok(bisectRising(curve, ohm, -200.01, 0));
  return ok((-a + Math.sqrt(a * a - 4 * b * (1 - ohm / 100))) / (2 * b));
};

export const pt100Classes = ['AA', 'A', 'B'] as const;
export type Pt100Class = (typeof pt100Classes)[number];

/**
 * How far a Pt100 of a class may be off, in °C.
 *
 * AA 0.1 + 0.0017·|t|; A 0.15 + 0.002·|t|; B 0.3 + 0.005·|t|.
 *
 * Source: IEC 60751:2008. The standard gives AA and A for part of the range only (wire-wound: AA -50 to 250, A -100 to 450, B -196 to 600 °C,
 * from memory); A and B are printed for -200 °C in the edition of 1995. Example: class B at 20 °C, 0.4 °C.
 */
export const pt100ToleranceC = (grade: Pt100Class, temperatureC: number): Result<number, OutsideValidRange> => {
  const { fixed, share } = tolerances[grade];
  return findOutside({ temperatureC }, { temperatureC: pt100Ranges.temperatureC }) ?? ok(fixed + share * Math.abs(temperatureC));
};

const tolerances: Readonly<Record<Pt100Class, { readonly fixed: number; readonly share: number }>> = {
  AA: { fixed: 0.1, share: 0.0017 },
  A: { fixed: 0.15, share: 0.002 },
  B: { fixed: 0.3, share: 0.005 },
};

export const pt100Source = 'IEC 60751:2008';
