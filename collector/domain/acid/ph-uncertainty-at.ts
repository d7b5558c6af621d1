import { percentWwFrom } from '../brine/bases.ts';
import { dayMs, type EpochMs } from '../units/time.ts';
import { calibrateElectrode, type BufferPoint } from './electrode.ts';
import { defaultBufferUncertainty, phUncertainty, phUncertaintyRanges } from './ph-uncertainty.ts';
import { usualPhUncertainty } from './usual-ph-uncertainty.ts';

export interface PhReading {
  readonly at: EpochMs;
  /** Salt of the brine it was read in. */
  readonly saltGPerL: number;
  /** The calibration it leans on; null: none is known. */
  readonly calibration: { readonly madeAt: EpochMs; readonly points: readonly BufferPoint[]; readonly temperatureC: number } | null;
}

/**
 * The uncertainty of one pH from what is known of its meter and its brine: wider with the age of the calibration, with the distance of the
 * buffers from their line, and with salt above 10 %. Never less than the usual one, which limits are moved by anyway. Rounded up to hundredths.
 *
 * Source and equation: `phUncertainty`. Salt is taken at 20 °C; a calibration older than that formula knows, or none, counts as old as it knows.
 * Valid range: salt 0 g/L to saturation; beyond, or unknown, the widest junction holds.
 * Example: 150 g/L (13.6 %), calibrated that hour: 0.17; 100 g/L, calibrated 20 days before: 0.27.
 */
export const phUncertaintyAt = ({ at, saltGPerL, calibration }: PhReading): number => {
  const percent = percentWwFrom('g-per-l', saltGPerL, 20);
  const oldest = phUncertaintyRanges.calibrationAgeDays.high;
  const age = calibration === null ? oldest : Math.min(oldest, Math.max(0, (at - calibration.madeAt) / dayMs));
  const electrode = calibration === null ? null : calibrateElectrode(calibration.points, calibration.temperatureC);
  const residual = electrode?.ok === true ? Math.min(electrode.value.worstResidualPh, phUncertaintyRanges.bufferUncertainty.high - defaultBufferUncertainty) : 0;
  const found = phUncertainty({ percentWw: percent.ok ? percent.value : null, calibrationAgeDays: age, resolution: 0.01, bufferUncertainty: defaultBufferUncertainty + residual });
  if (!found.ok) return Number.POSITIVE_INFINITY;
  return Math.max(usualPhUncertainty, Math.ceil(found.value.expanded * 100 - 1e-9) / 100);
};
