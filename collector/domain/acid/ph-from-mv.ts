import { kelvinOffset } from '../cure/arrhenius.ts';
import type { Result } from '../result.ts';
import { ok } from '../result.ts';
import type { OutsideValidRange } from '../valid-range.ts';
import { findOutside, outsideValidRange } from '../valid-range.ts';
import type { BufferPoint } from './electrode.ts';
import { calibrateElectrode, electrodeRanges } from './electrode.ts';

/**
 * pH of a sample from the electrode's millivolts, its calibration, and the sample's temperature.
 *
 * pH = 7 - (mV - offset) / (slope · T_sample/T_calibration), T in kelvin.
 *
 * Source: Nernst equation with the isopotential point at pH 7. Temperature compensation corrects the electrode's slope only: it does not
 * tell what the sample's own pH would be at another temperature.
 * Valid range: calibration and sample 0 to 60 °C, an answer between 0 and 14. Refusals name `mv`, `points`, `calibrationC` or `temperatureC`.
 * Example: buffers 7.00 → 0 mV and 4.00 → 177.48 mV at 25 °C; 150 mV at 10 °C is pH 4.33; uncompensated it would read 4.46.
 */
export const phFromMv = (mv: number, points: readonly BufferPoint[], calibrationC: number, temperatureC: number): Result<number, OutsideValidRange> => {
  const outside = findOutside(
    { mv, calibrationC, temperatureC },
    { mv: electrodeRanges.mv, calibrationC: electrodeRanges.temperatureC, temperatureC: electrodeRanges.temperatureC },
  );
  if (outside !== null) return outside;
  const calibration = calibrateElectrode(points, calibrationC);
  if (!calibration.ok) return calibration;
  const { offsetMv, slopeMvPerPh } = calibration.value;
  const slope = (slopeMvPerPh * (temperatureC + kelvinOffset)) / (calibrationC + kelvinOffset);
  const ph = 7 - (mv - offsetMv) / slope;
  return ph >= 0 && ph <= 14 ? ok(ph) : outsideValidRange('mv', 'mv gives a pH outside 0 to 14 with this calibration');
};
