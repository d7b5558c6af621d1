import type { TemperatureReading } from '../cure/temperature-dose.ts';
import { valueAt } from '../heat/value-at.ts';
import { dayMs, hourMs, minuteMs, type EpochMs } from '../units/time.ts';

export interface Following {
  /** Degrees of the probe for each degree of the air, at the lag at which they go together best. */
  readonly gain: number;
  readonly lagHours: number;
  readonly together: number;
}

/**
 * How closely a probe follows the air over the last 24 hours: gain and lag by regression on the air of up to six hours earlier.
 *
 * A drum answers a daily swing as a first-order body: gain 1/√(1 + (ωτ)²), lag atan(ωτ)/ω. τ 5 h gives 0.61 and 3.5 h, 20 h 0.19 and
 * 5.3 h. A probe in the air has a gain near 1 and a lag of minutes.
 *
 * Source: first-order response (textbook), least squares. Units: °C, h. Valid where the air swung by at least 3 °C; null otherwise.
 */
export const followingAir = (drum: readonly TemperatureReading[], air: readonly TemperatureReading[], now: EpochMs): Following | null => {
  const last = drum.filter(({ t }) => t > now - dayMs && t <= now);
  const lastAir = air.filter(({ t }) => t > now - dayMs && t <= now).map(({ temperatureC }) => temperatureC);
  if (last.length < leastMeans || lastAir.length < leastMeans || Math.max(...lastAir) - Math.min(...lastAir) < leastSwingC) return null;
  let best: Following | null = null;
  for (let lagMs = 0; lagMs <= longestLagMs; lagMs += 10 * minuteMs) {
    const pairs = last.filter(({ t }) => t - lagMs >= (air[0]?.t ?? 0)).map(({ t, temperatureC }) => [valueAt(air, t - lagMs), temperatureC] as const);
    const meanX = pairs.reduce((sum, [x]) => sum + x, 0) / pairs.length;
    const meanY = pairs.reduce((sum, [, y]) => sum + y, 0) / pairs.length;
    let [xx, xy, yy] = [0, 0, 0];
    for (const [x, y] of pairs) [xx, xy, yy] = [xx + (x - meanX) ** 2, xy + (x - meanX) * (y - meanY), yy + (y - meanY) ** 2];
    const together = xx * yy > 0 ? xy / Math.sqrt(xx * yy) : 0;
    if (best === null || together > best.together) best = { gain: xx > 0 ? xy / xx : 0, lagHours: lagMs / hourMs, together };
  }
  return best;
};

/** A gain above 0.7 within an hour is no drum: the probe, or the fruit, is out of the brine. */
export const isInAir = ({ gain, lagHours, together }: Following): boolean => gain > mostGain && lagHours < leastLagHours && together > leastTogether;

const mostGain = 0.7;
const leastLagHours = 1;
const leastTogether = 0.9;
const leastSwingC = 3;
const leastMeans = 120;
const longestLagMs = 6 * hourMs;
