import { brineRanges } from '../brine/range.ts';
import type { Result } from '../result.ts';
import { ok } from '../result.ts';
import type { OutsideValidRange, ValidRange } from '../valid-range.ts';
import { findOutside } from '../valid-range.ts';

export interface PhMeasurement {
  /** Salt of the sample; null when it is not known, then the widest junction allowance holds. */
  readonly percentWw: number | null;
  readonly calibrationAgeDays: number;
  /** Last digit the instrument shows. */
  readonly resolution: number;
  /** How well the buffers are known, plus how far they lay from the line. */
  readonly bufferUncertainty: number;
}

/** Half-widths, in pH, and the expanded uncertainty that limits are moved by. */
export interface PhUncertainty {
  readonly buffer: number;
  readonly drift: number;
  readonly junction: number;
  readonly resolution: number;
  readonly expanded: number;
}

export const phUncertaintyRanges = {
  percentWw: brineRanges.percentWw,
  calibrationAgeDays: { low: 0, high: 60, unit: 'days' },
  resolution: { low: 0, high: 0.5, unit: '' },
  bufferUncertainty: { low: 0, high: 0.5, unit: '' },
} as const satisfies Record<string, ValidRange>;

export const defaultBufferUncertainty = 0.02;

/**
 * How far a pH in brine may be from the truth.
 *
 * U = 2·√(Σ a²/3) over half-widths a: buffers, drift since calibration, liquid junction in salt, half a digit of resolution.
 *
 * Source: combination of rectangular half-widths with coverage factor 2 by the Guide to the Expression of Uncertainty (JCGM 100:2008).
 * Junction: 1 to 3 mV, 0.02 to 0.05 pH, in water like the buffers; ± 0.1 in 6 to 10 % brine, and 0.01 more per per cent above (the last two are
 * assumptions). Drift: 0.01 a day, assumption. A strip or a spoiled buffer is not covered: see the electrode check.
 * Valid range: `phUncertaintyRanges`; an older calibration gives no number.
 * Example: 8 % brine, calibrated 3 days ago, 0.01 shown, good buffers: 0.12.
 */
export const phUncertainty = ({ percentWw, calibrationAgeDays, resolution, bufferUncertainty }: PhMeasurement): Result<PhUncertainty, OutsideValidRange> => {
  const salt = percentWw ?? brineRanges.percentWw.high;
  const outside = findOutside({ percentWw: salt, calibrationAgeDays, resolution, bufferUncertainty }, phUncertaintyRanges);
  if (outside !== null) return outside;
  const parts = { buffer: bufferUncertainty, drift: driftPerDay * calibrationAgeDays, junction: junctionHalfWidth(salt), resolution: resolution / 2 };
  const sum = Object.values(parts).reduce((total, halfWidth) => total + (halfWidth * halfWidth) / 3, 0);
  return ok({ ...parts, expanded: 2 * Math.sqrt(sum) });
};

const driftPerDay = 0.01;

const junctionHalfWidth = (percentWw: number): number => {
  if (percentWw <= 6) return 0.05 + (0.05 * percentWw) / 6;
  return 0.1 + 0.01 * Math.max(0, percentWw - 10);
};
