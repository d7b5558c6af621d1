import type { Result } from '../result.ts';
import { ok } from '../result.ts';
import type { OutsideValidRange, ValidRange } from '../valid-range.ts';
import { findOutside } from '../valid-range.ts';
import { defaultFleshMoisture, defaultStoneFraction } from './leaching-defaults.ts';

export interface FruitAndBrine {
  /** Fruit as picked, stones included, also for fruit that is pitted afterwards. */
  readonly fruitKg: number;
  readonly brineL: number;
  readonly stoneFraction?: number | undefined;
  readonly fleshMoisture?: number | undefined;
}

export const fruitAndBrineRanges = {
  fruitKg: { low: 0.01, high: 20_000, unit: 'kg' },
  brineL: { low: 0.01, high: 20_000, unit: 'L' },
  stoneFraction: { low: 0, high: 0.5, unit: '' },
  fleshMoisture: { low: 0.3, high: 0.9, unit: '' },
} as const satisfies Record<string, ValidRange>;

/**
 * Brine per flesh water: what bitterness (and salt) share between fruit and brine depends on.
 *
 * V_f = m (1 - p) w;  r = V_b / V_f, with flesh water taken at 1 kg/L.
 *
 * Source: mass balance; default stone fraction and flesh moisture are assumptions inside published ranges.
 * Units: kg, L; ratio without unit. Valid range: `fruitAndBrineRanges`.
 * Example: 10 kg, p 0.17, w 0.65 hold 5.395 L of flesh water; 7.3 L of brine give r = 1.3531.
 */
export const fleshWaterL = (fruit: Omit<FruitAndBrine, 'brineL'>): number =>
  fruit.fruitKg * (1 - (fruit.stoneFraction ?? defaultStoneFraction)) * (fruit.fleshMoisture ?? defaultFleshMoisture);

export const brineRatio = (fruit: FruitAndBrine): Result<number, OutsideValidRange> => {
  const { fruitKg, brineL, stoneFraction = defaultStoneFraction, fleshMoisture = defaultFleshMoisture } = fruit;
  return findOutside({ fruitKg, brineL, stoneFraction, fleshMoisture }, fruitAndBrineRanges) ?? ok(brineL / fleshWaterL(fruit));
};
