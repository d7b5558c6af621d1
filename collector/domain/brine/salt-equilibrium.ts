import { fleshWaterL as fleshWater, fruitAndBrineRanges } from '../cure/brine-ratio.ts';
import type { Result } from '../result.ts';
import { ok } from '../result.ts';
import type { OutsideValidRange, ValidRange } from '../valid-range.ts';
import { findOutside, outsideValidRange } from '../valid-range.ts';
import { saltSaturationGPerL } from './salt-change.ts';

export interface FruitInBrine {
  readonly fruitKg: number;
  readonly stoneFraction: number;
  readonly fleshMoisture: number;
  readonly brineL: number;
  readonly brineGPerL: number;
  /** Salt already in the flesh water; fresh fruit has none. */
  readonly fleshGPerL?: number | undefined;
  readonly targetGPerL?: number | undefined;
}

export interface SaltEquilibrium {
  readonly fleshWaterL: number;
  readonly equilibriumGPerL: number;
  /** Strength of one fresh brine, of the same volume, that settles at the target. Absent without a target. */
  readonly brineForTargetGPerL?: number;
  /** Dry salt that lifts flesh and brine together from where they settle to the target. Absent when they settle above it. */
  readonly dryTopUpG?: number;
}

const strength = { low: 0, high: saltSaturationGPerL, unit: 'g/L' };
export const saltEquilibriumRanges = { ...fruitAndBrineRanges, brineGPerL: strength, fleshGPerL: strength, targetGPerL: strength } as const satisfies Record<string, ValidRange>;

/**
 * Where the salt of a brine settles once the fruit has taken its share.
 *
 * V_f = m(1 - p)·w; s_eq = (V_f s_f + V_b s_b)/(V_f + V_b); one brine for a target s*: [s*(V_f + V_b) - V_f s_f]/V_b;
 * dry salt for the whole system: (s* - s_eq)(V_f + V_b).
 *
 * Source: mass balance over two well-mixed waters of constant volume (shrivelling and the oil phase ignored, ± 10 % on V_f).
 * Units: kg, L, g/L of water phase, g. Stone fraction and flesh moisture depend on the variety: 0.12 to 0.25 and 0.55 to 0.75.
 * Example: 10 kg, p 0.17, w 0.65, 7.3 L at 100 g/L settle at 57.50; lifting that to 80 takes 285.6 g, not the 164 g for the brine alone.
 */
export const saltEquilibrium = (input: FruitInBrine): Result<SaltEquilibrium, OutsideValidRange> => {
  const { fruitKg, stoneFraction, fleshMoisture, brineL, brineGPerL, fleshGPerL = 0, targetGPerL } = input;
  const outside = findOutside({ fruitKg, stoneFraction, fleshMoisture, brineL, brineGPerL, fleshGPerL, targetGPerL: targetGPerL ?? 0 }, saltEquilibriumRanges);
  if (outside !== null) return outside;
  const fleshWaterL = fleshWater({ fruitKg, stoneFraction, fleshMoisture });
  const waterL = fleshWaterL + brineL;
  const equilibriumGPerL = (fleshWaterL * fleshGPerL + brineL * brineGPerL) / waterL;
  if (targetGPerL === undefined) return ok({ fleshWaterL, equilibriumGPerL });
  const brineForTargetGPerL = (targetGPerL * waterL - fleshWaterL * fleshGPerL) / brineL;
  const liftG = (targetGPerL - equilibriumGPerL) * waterL;
  if (brineForTargetGPerL < 0) return outsideValidRange('targetGPerL', 'targetGPerL is lower than plain water would settle at in one change');
  if (brineForTargetGPerL > saltSaturationGPerL) return outsideValidRange('targetGPerL', 'targetGPerL needs a brine stronger than saturated: change the brine more than once');
  return ok({ fleshWaterL, equilibriumGPerL, brineForTargetGPerL, ...(liftG >= 0 && { dryTopUpG: liftG }) });
};

export const saltEquilibriumSource = 'Mass balance of salt over brine and flesh water';
