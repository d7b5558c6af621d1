import type { EpochMs } from '../units/time.ts';
import { dayMs } from '../units/time.ts';

export interface CalibrationAge {
  readonly ageDays: number;
  readonly due: boolean;
}

/**
 * How old a pH calibration is, and whether the next one is due.
 *
 * Source: common practice, no source: on the first day, again on the next (new electrodes have been seen to shift 0.2 to 0.3 within a day of first use),
 * then every week, and on the day of any release. A calibration dated in the future counts as new.
 * Example: eight days after the last one it is due; for the first calibration of an electrode, after one day.
 */
export const calibrationAge = (calibratedAt: EpochMs, now: EpochMs, firstOfElectrode: boolean): CalibrationAge => {
  const ageDays = Math.max(0, (now - calibratedAt) / dayMs);
  return { ageDays, due: ageDays >= (firstOfElectrode ? 1 : 7) };
};
