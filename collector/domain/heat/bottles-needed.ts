import type { AheadPoint } from './drum-ahead.ts';
import { iceBottleKj } from './ice-bottle.ts';

export interface Icing {
  readonly points: readonly AheadPoint[];
  readonly limitC: number;
  /** When the bottles go in. */
  readonly atHours: number;
  readonly untilHours: number;
  readonly timeConstantHours: number;
  readonly heatCapacityKjPerK: number;
  readonly bottleL: number;
}

/**
 * Sealed bottles of ice that keep a drum half a degree under a limit until a time.
 *
 * What is cooled at t_0 has faded to ΔT e^(-(t - t_0)/τ) at t, so ΔT = max over t of (T(t) - limit + ½) e^((t - t_0)/τ);
 * n = ⌈C ΔT / Q⌉. The bottles count as melted at once, which is right within the hours between putting them in and the limit.
 *
 * Source: Newton's law of cooling, heat balance (`drumHeatCapacityKjPerK`, `iceBottleKj`). Units: °C, h, kJ/K, L.
 * Valid range: points every half hour; a drum below its limit when the bottles go in.
 * Example: 198 kJ/K, τ 10 h, 26 °C foreseen 3 h after against a limit of 25 °C: ΔT = 1.5 e^0.3 = 2.02 K, 401 kJ, one bottle of 2 L.
 */
export const bottlesNeeded = ({ points, limitC, atHours, untilHours, timeConstantHours, heatCapacityKjPerK, bottleL }: Icing): number => {
  const needed = points
    .filter(({ hours }) => hours >= atHours && hours <= untilHours)
    .reduce((most, { hours, temperatureC }) => Math.max(most, (temperatureC - limitC + marginC) * Math.exp((hours - atHours) / timeConstantHours)), 0);
  return Math.ceil((heatCapacityKjPerK * needed) / iceBottleKj(bottleL, limitC));
};

const marginC = 0.5;
