import type { Result } from '../result.ts';
import { ok } from '../result.ts';
import { linearRegression } from '../stats/linear-regression.ts';
import type { OutsideValidRange, ValidRange } from '../valid-range.ts';
import { findOutside, outsideValidRange } from '../valid-range.ts';
import { nernstSlopeMv } from './nernst.ts';

/** A buffer (its pH at its temperature, not the number on the bottle) and what the electrode gave in it. */
export interface BufferPoint {
  readonly ph: number;
  readonly mv: number;
}

export type ElectrodeVerdict = 'good' | 'check' | 'replace';

export interface ElectrodeCalibration {
  /** Positive: millivolts per unit of pH, at the temperature of the buffers. */
  readonly slopeMvPerPh: number;
  /** Against the Nernst slope at that temperature. */
  readonly slopePercent: number;
  /** Millivolts at pH 7. */
  readonly offsetMv: number;
  readonly verdict: ElectrodeVerdict;
  /** Largest distance of a buffer from the line, in pH; 0 by construction with two buffers. */
  readonly worstResidualPh: number;
}

export const electrodeRanges = {
  temperatureC: { low: 0, high: 60, unit: '°C' },
  ph: { low: 0, high: 14, unit: '' },
  mv: { low: -1_000, high: 1_000, unit: 'mV' },
} as const satisfies Record<string, ValidRange>;

/**
 * Slope and offset of a pH electrode from two or three buffers.
 *
 * mV = offset - slope · (pH - 7): through two points, or by least squares through more; slope % = 100 · slope / Nernst slope.
 *
 * Source: acceptance from a published electrode check: offset within ± 30 mV and slope 85 to 105 %, outside of it `replace` (after cleaning and
 * fresh buffers); tighter laboratory practice 95 to 102 % is `good`; between the two, or with a third buffer off the line by more than
 * 0.05 pH (common practice), `check`.
 * Valid range: buffers at least 1 pH apart, 0 to 60 °C; the pH must be that of the buffer at its temperature. Refusals name `points`.
 * Example: -15 mV at 7.01 and +160 mV at 4.01, 25 °C: 58.33 mV/pH, 98.6 %, offset -14.4 mV, good.
 */
export const calibrateElectrode = (points: readonly BufferPoint[], temperatureC: number): Result<ElectrodeCalibration, OutsideValidRange> => {
  const outside = findOutside({ temperatureC }, { temperatureC: electrodeRanges.temperatureC });
  if (outside !== null) return outside;
  if (points.length < 2) return outsideValidRange('points', 'points must be two buffers or more: one buffer gives no slope');
  for (const { ph, mv } of points) {
    if (findOutside({ ph, mv }, { ph: electrodeRanges.ph, mv: electrodeRanges.mv }) !== null) return outsideValidRange('points', 'points must each have pH 0 to 14 and -1000 to 1000 mV');
  }
  const phs = points.map(({ ph }) => ph);
  if (Math.max(...phs) - Math.min(...phs) < 1) return outsideValidRange('points', 'points must be buffers at least 1 pH apart');
  const line = linearRegression(points.map(({ ph, mv }) => ({ x: ph - 7, y: mv })));
  if (!line.ok) return line;
  const slopeMvPerPh = -line.value.slope;
  if (!(slopeMvPerPh > 0)) return outsideValidRange('points', 'points have millivolts that do not fall with pH: buffers exchanged, leads reversed, or a dead electrode');
  const offsetMv = line.value.intercept;
  const worstResidualPh = points.length === 2 ? 0 : Math.max(...points.map(({ ph, mv }) => Math.abs((mv - offsetMv) / slopeMvPerPh + (ph - 7))));
  const slopePercent = (100 * slopeMvPerPh) / nernstSlopeMv(temperatureC);
  return ok({ slopeMvPerPh, slopePercent, offsetMv, worstResidualPh, verdict: verdictOn(slopePercent, offsetMv, worstResidualPh) });
};

const verdictOn = (slopePercent: number, offsetMv: number, worstResidualPh: number): ElectrodeVerdict => {
  if (Math.abs(offsetMv) > 30 || slopePercent < 85 || slopePercent > 105) return 'replace';
  return slopePercent >= 95 && slopePercent <= 102 && worstResidualPh <= 0.05 ? 'good' : 'check';
};

export const electrodeSource = 'Nernst equation; published electrode check (offset ± 30 mV, slope 85 to 105 %), laboratory practice 95 to 102 %';
