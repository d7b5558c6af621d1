import { defaultBufferUncertainty } from '../acid/ph-uncertainty.ts';
import { calibrateElectrode } from '../acid/electrode.ts';
import { localDate } from '../cure/stage.ts';
import type { EntryBodies } from '../journal/entry.ts';
import type { EpochMs } from '../units/time.ts';
import { fromRfc3339 } from '../units/time.ts';

/** What is known of a pH meter on the day of a reading. Half-widths are the most a thing may be off. */
export interface MeterCheck {
  readonly bufferHalfWidth: number;
  /** What a second, freshly opened acid buffer read, less what it is; null: not checked. */
  readonly secondBufferError: number | null;
  /** The buffer nearest to the acid end, and how far the slope may be off, as a share. */
  readonly nearestBufferPh: number;
  readonly slopeHalfWidth: number;
  /** How well meter and sample agree in temperature (compensation set by hand, a cold sample), and about what temperature that is. */
  readonly temperatureHalfWidthC: number;
  readonly sampleC: number;
}

/** Assumptions: a slope good to 2 % after a calibration that day, a sample within 2 °C of what the meter takes it to be, at 20 °C. */
export const meterDefaults = { bufferHalfWidth: defaultBufferUncertainty, slopeHalfWidth: 0.02, temperatureHalfWidthC: 2, sampleC: 20 } as const;

type PhCalibration = Extract<EntryBodies['calibrated'], { readonly kind: 'ph' }>;

/**
 * The meter behind a reading, from its calibrations: the last one before the reading, on the same local day.
 *
 * Source: extension pages on acidified foods ask for two buffers on the day of use; an electrode that must be replaced does not count. A second
 * bottle of the acid buffer is told as a further point of the calibration with nearly the same pH: the two differ by Δ mV / slope.
 * Null when there is no such calibration, or it is not usable.
 */
export const meterCheckAt = (calibrations: readonly EntryBodies['calibrated'][], at: EpochMs, zone: string): MeterCheck | null => {
  const day = localDate(at, zone).toString();
  const before = calibrations
    .filter((calibration): calibration is PhCalibration => calibration.kind === 'ph')
    .map((calibration) => ({ calibration, madeAt: fromRfc3339(calibration.at) }))
    .filter(({ madeAt }) => madeAt <= at && localDate(madeAt, zone).toString() === day)
    .sort((one, other) => one.madeAt - other.madeAt);
  const last = before.at(-1)?.calibration;
  if (last === undefined) return null;
  const electrode = calibrateElectrode(last.points, last.temperatureC);
  if (!electrode.ok || electrode.value.verdict === 'replace') return null;
  const [acid, next] = last.points.toSorted((one, other) => one.ph - other.ph);
  if (acid === undefined || next === undefined) return null;
  const secondBufferError = next.ph - acid.ph <= sameBuffer ? acid.ph - (next.mv - acid.mv) / electrode.value.slopeMvPerPh - next.ph : null;
  return { ...meterDefaults, bufferHalfWidth: meterDefaults.bufferHalfWidth + electrode.value.worstResidualPh, secondBufferError, nearestBufferPh: acid.ph };
};

/** 4.00 and 4.01 are the same buffer from two bottles; 4.01 and 4.66 are not. */
const sameBuffer = 0.1;
