import type { EpochMs } from '#domain/units/time.ts';
import { hourMs } from '#domain/units/time.ts';
import type { Signal } from './signal.ts';

const olivesKjPerKgK = 3.2;
const brineKjPerKgK = 3.8;
const brineKgPerL = 1.055;

/** Brine and fruit come to one temperature within 0.5 to 3 hours (assumption). */
export const settlingHours = 0.9;

/**
 * The share of a drum's heat that is in its brine: a change moves the whole drum by this share of the difference.
 *
 * w = m_b c_b / (m_b c_b + m_f c_f); T_after = T + w (T_fresh - T).
 *
 * Source: heat balance; c of 8 % brine 3.80, of olives 3.2 kJ/kgK (assumption). Units: kg, L; share without unit.
 * Example: 35 kg with 25 L of brine: w = 0.472; a 17 °C drum given 12 °C brine settles at 14.6 °C.
 */
export const brineHeatShare = (fruitKg: number, brineL: number): number => {
  const brine = brineL * brineKgPerL * brineKjPerKgK;
  return brine / (brine + fruitKg * olivesKjPerKgK);
};

export interface FreshBrine {
  readonly at: EpochMs;
  readonly temperatureC: number;
  readonly heatShare: number;
}

/**
 * What a probe in a drum shows when its brine is changed: at once the fresh brine, soon the mixture of brine and fruit, then slowly air again.
 * The drum is linear, so each change is added to the undisturbed course as two decays.
 */
export const withBrineChanges = (undisturbed: Signal, timeConstantHours: number, changes: readonly FreshBrine[]): Signal => {
  const steps: { at: EpochMs; bulkC: number; probeC: number }[] = [];
  const disturbed = (at: EpochMs): number => {
    let sum = undisturbed(at);
    for (const { at: changedAt, bulkC, probeC } of steps) {
      const hours = (at - changedAt) / hourMs;
      if (hours >= 0) sum += bulkC * Math.exp(-hours / timeConstantHours) + probeC * Math.exp(-hours / settlingHours);
    }
    return sum;
  };
  for (const { at, temperatureC, heatShare } of changes) {
    const differenceC = temperatureC - disturbed(at);
    steps.push({ at, bulkC: heatShare * differenceC, probeC: (1 - heatShare) * differenceC });
  }
  return disturbed;
};
