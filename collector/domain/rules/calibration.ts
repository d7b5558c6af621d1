import { calibrationAge } from '../acid/calibration-age.ts';
import { calibrateElectrode, type BufferPoint } from '../acid/electrode.ts';
import { dayMs, type EpochMs } from '../units/time.ts';
import type { Finding } from './finding.ts';
import type { Limit } from './limit.ts';

/** A calibration of a pH electrode, as far as the rule needs it. */
export interface ElectrodeCheck {
  readonly at: EpochMs;
  readonly points: readonly BufferPoint[];
  readonly temperatureC: number;
}

/**
 * Rule of kind `calibration`: the electrode of a drum was calibrated too long ago (`high` days), or with a slope that is no good.
 *
 * Source: weekly calibration and a slope of 92 to 102 % are common practice, no source.
 * Example: calibrated eight days ago, limit seven: true. Calibrated yesterday with a slope of 88 %: true.
 */
const slopePercent = { low: 92, high: 102 } as const;

export const judgeCalibration = (limit: Limit, probe: string, checks: readonly ElectrodeCheck[], now: EpochMs): Finding | null => {
  const { high } = limit;
  const last = checks.at(-1);
  // One that was never calibrated gives no pH that is believed: its readings say so themselves.
  if (high === null || last === undefined) return null;
  const { ageDays } = calibrationAge(last.at, now, false);
  const advice = 'Calibrate it in two fresh buffers, 7 and 4, near the temperature of the brine. Until then measure pH with another meter before you decide anything by it.';
  if (now - last.at > high * dayMs) return { side: null, value: ageDays, limitValue: high, text: `The pH electrode of ${probe} was calibrated ${String(Math.floor(ageDays))} days ago.`, advice };
  const fitted = calibrateElectrode(last.points, last.temperatureC);
  if (!fitted.ok) return null;
  const slope = fitted.value.slopePercent;
  if (slope >= slopePercent.low && slope <= slopePercent.high) return null;
  return { side: null, value: slope, limitValue: slope < slopePercent.low ? slopePercent.low : slopePercent.high, text: `The pH electrode of ${probe} has a slope of ${slope.toFixed(0)} %, outside 92 to 102 %.`, advice: `Clean it and calibrate again in fresh buffers; if the slope stays outside, replace it. ${advice}` };
};
