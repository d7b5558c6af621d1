import { calibrateElectrode } from '../acid/electrode.ts';
import type { Calibrated } from '../journal/check-entries.ts';
import { checkSettingsWith, type CheckSettings } from './check-settings.ts';

/** 4.15 - 4.10 is a hair more than 0.05 in binary numbers; the reader meant 0.05. */
const rounding = 1e-9;

/**
 * Why an instrument failed a check, in words; null: it passed. What it tells afterwards is no evidence until it passes one.
 *
 * pH: slope within 92 to 102 % of the Nernst slope, offset within ± 30 mV (published electrode check); a buffer read as a sample within
 * 0.05 pH. Thermometer: within 1.0 °C in melting ice. Sources of the numbers: `check-settings.ts`.
 * Example: 4.01 read as 4.07 fails, as 4.06 passes; -1.0 °C in ice passes, -1.1 °C fails.
 */
export const failedCheck = (check: Calibrated, settings: CheckSettings = checkSettingsWith()): string | null => {
  switch (check.kind) {
    case 'ice-point': {
      const error = check.readingC - check.referenceC;
      return Math.abs(error) <= settings.icePointWithinC + rounding ? null : `off by ${signed(error, 1)} °C in ice`;
    }
    case 'buffer-check':
      return bufferError(check, settings);
    case 'ph': {
      const electrode = calibrateElectrode(check.points, check.temperatureC);
      if (!electrode.ok) return electrode.error.message;
      const { slopePercent, offsetMv, verdict } = electrode.value;
      if (slopePercent < settings.slopeLowPercent - rounding || slopePercent > settings.slopeHighPercent + rounding) return `slope ${slopePercent.toFixed(1)} %`;
      return verdict === 'replace' ? `offset ${signed(offsetMv, 0)} mV` : null;
    }
  }
};

/** Why what was measured before a calibration is in doubt, though the calibration itself is good: what the meter showed before it was adjusted. */
export const foundWrong = (check: Calibrated, settings: CheckSettings = checkSettingsWith()): string | null => {
  if (check.kind !== 'ph') return null;
  for (const buffer of check.asFound ?? []) {
    const wrong = bufferError(buffer, settings);
    if (wrong !== null) return `${wrong} before adjusting`;
  }
  return null;
};

const bufferError = ({ ph, reads }: { readonly ph: number; readonly reads: number }, settings: CheckSettings): string | null =>
  Math.abs(reads - ph) <= settings.bufferWithinPh + rounding ? null : `buffer ${ph.toFixed(2)} read ${reads.toFixed(2)}`;

const signed = (value: number, decimals: number): string => `${value < 0 ? '-' : '+'}${Math.abs(value).toFixed(decimals)}`;
