import { kelvinOffset } from '../cure/arrhenius.ts';
import { variance } from '../stats/moments.ts';
import type { MeterCheck } from './meter-check.ts';

/** Standard uncertainties, the salt allowance, and the expanded uncertainty, all in pH. */
export interface JarUncertainty {
  readonly buffer: number;
  readonly slope: number;
  readonly temperature: number;
  /** s/√n: how well the jars measured stand for the lot. */
  readonly jars: number;
  readonly salt: number;
  /** Of the mean of the jars. */
  readonly expanded: number;
  /** Of one jar by itself: the same without the spread. */
  readonly ofOneJar: number;
}

/** The junction of the electrode in 6 to 10 % brine (assumption, from 1 to 3 mV in dilute samples). It is added whole: it may be a bias. */
export const saltAllowance = 0.1;

/** Where no second acid buffer was read: as far off as one may be that passes (assumption). */
const uncheckedBufferError = 0.05;

/** One-sided 95 %: only a pH that is higher than it reads does harm. */
export const coverage = 1.65;

/**
 * How far the mean pH of packed jars may be from the truth.
 *
 * U = 1.65·√(u_buffer² + u_slope² + u_temp² + s²/n) + 0.1, with u = a/√3 for a half-width a:
 * a_buffer = buffer + |error in a second acid buffer|; a_slope = slope share · |pH - nearest buffer|; a_temp = |7 - pH| · ΔT / T (Nernst).
 *
 * Source: combination of standard uncertainties by the Guide to the Expression of Uncertainty (JCGM 100:2008); salt allowance and half-widths are
 * assumptions. All jars are read with one meter, so its errors do not average out: the worst check counts. s from two jars is itself
 * poorly known, which is why the worst jar is judged beside the mean.
 * Example: two jars at 4.12, a second buffer without error, all else by default: 0.127.
 */
export const jarUncertainty = (phs: readonly number[], meters: readonly MeterCheck[]): JarUncertainty => {
  const worst = (halfWidth: (meter: MeterCheck, ph: number) => number): number =>
    Math.max(0, ...meters.flatMap((meter) => phs.map((ph) => halfWidth(meter, ph)))) / Math.sqrt(3);
  const buffer = worst((meter) => meter.bufferHalfWidth + Math.abs(meter.secondBufferError ?? uncheckedBufferError));
  const slope = worst((meter, ph) => meter.slopeHalfWidth * Math.abs(ph - meter.nearestBufferPh));
  const temperature = worst((meter, ph) => (Math.abs(7 - ph) * meter.temperatureHalfWidthC) / (meter.sampleC + kelvinOffset));
  const jars = phs.length < 2 ? 0 : Math.sqrt(Math.max(0, variance(phs)) / phs.length);
  return {
    buffer, slope, temperature, jars, salt: saltAllowance,
    expanded: coverage * Math.hypot(buffer, slope, temperature, jars) + saltAllowance,
    ofOneJar: coverage * Math.hypot(buffer, slope, temperature) + saltAllowance,
  };
};
