import { leach } from '#domain/cure/leaching.ts';
import type { EpochMs } from '#domain/units/time.ts';
import { dayMs } from '#domain/units/time.ts';
import type { Signal } from './signal.ts';

export interface SaltUptake {
  readonly start: EpochMs;
  readonly brineL: number;
  readonly saltGPerL: number;
  /** Litres of brine per litre of flesh water. */
  readonly ratio: number;
  readonly uptakePerDay: number;
  /** Dry salt stirred in later, oldest first. */
  readonly additions: readonly { readonly at: EpochMs; readonly saltG: number }[];
}

/**
 * Salt left in the brine while fruit takes its share: the two-compartment exchange of the leaching model, run backwards and without decay.
 *
 * s_eq = (s_f + r s_b)/(1 + r), approached as e^(-k t (1 + 1/r)); dry salt adds g/V_b to the brine.
 *
 * Source: mass balance; k is an assumption. Units: g NaCl per L of water phase. Volumes constant.
 * Example: 100 g/L, r = 1.35, k = 0.15 per day: 76.9 g/L in the brine after 3 days, 64.3 after 7.
 */
export const saltUptake = ({ start, brineL, saltGPerL, ratio, uptakePerDay, additions }: SaltUptake): Signal => {
  const step = (from: { flesh: number; brine: number }, ms: number): { flesh: number; brine: number } => leach(from, (uptakePerDay * ms) / dayMs, 0, ratio);
  return (at) => {
    let state = { flesh: 0, brine: saltGPerL };
    let since = start;
    for (const addition of additions) {
      if (addition.at > at) break;
      const reached = step(state, addition.at - since);
      state = { flesh: reached.flesh, brine: reached.brine + addition.saltG / brineL };
      since = addition.at;
    }
    return step(state, Math.max(0, at - since)).brine;
  };
};
