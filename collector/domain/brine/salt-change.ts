import { arrheniusFactor } from '../cure/arrhenius.ts';
import type { Cut } from '../cure/batch.ts';

/** Salt in the two waters of a drum, in g per litre of water phase. */
export interface SaltState {
  readonly fleshGPerL: number;
  readonly brineGPerL: number;
}

/** About saturation at room temperature: 26.4 % w/w is 317.6 g/L. */
export const saltSaturationGPerL = 318;

/** The common strength both waters go to: s_eq = (s_f + r·s_b)/(1 + r), r = brine per flesh water. */
export const settledSalt = ({ fleshGPerL, brineGPerL }: SaltState, brinePerFleshWater: number): number =>
  (fleshGPerL + brinePerFleshWater * brineGPerL) / (1 + brinePerFleshWater);

/**
 * Salt moving between brine and flesh for a time, exact.
 *
 * The difference decays as exp(-Λ(1 + 1/r)) around s_eq, Λ = rate · days (or its integral over a changing temperature).
 * No salt is lost: r·s_b + s_f stays what it was.
 *
 * Source: two-compartment diffusion balance, the same algebra as the leaching of bitterness, without decay. r above 0, Λ 0 or more.
 * Example: 0.15 per day for 7 days, r 1.35, 100 g/L on fresh fruit: flesh 48.2, brine 64.3.
 */
export const takeUpSalt = (state: SaltState, rateDays: number, brinePerFleshWater: number): SaltState => {
  const settled = settledSalt(state, brinePerFleshWater);
  const left = Math.exp(-rateDays * (1 + 1 / brinePerFleshWater));
  return { fleshGPerL: settled + (state.fleshGPerL - settled) * left, brineGPerL: settled + (state.brineGPerL - settled) * left };
};

/**
 * A brine change of any fraction: s_b becomes (1 - φ)·s_b + φ·s_new; the flesh does not notice yet.
 *
 * Source: mixing of equal volumes. Fraction φ from 0 (nothing) to 1 (all). Example: half of 60 g/L by 100 g/L gives 80.
 */
export const changeSaltBrine = (state: SaltState, newGPerL: number, fraction = 1): SaltState => ({
  fleshGPerL: state.fleshGPerL,
  brineGPerL: (1 - fraction) * state.brineGPerL + fraction * newGPerL,
});

/**
 * How fast salt goes into the fruit, per day: what `takeUpSalt` takes times days.
 *
 * k(T) = k(20 °C) · Arrhenius factor with 20 kJ/mol.
 *
 * Source: assumptions. 0.32 a day is the most that a published surface coefficient (1e-8 m/s on a sphere of 8 mm radius) allows a whole fruit;
 * 0.15 is taken. The energy is that of salt diffusion in vegetables (Potts 1986, 18.8). Settled in days when cracked, in two or three weeks when whole.
 * Example: whole fruit, 0.15 at 20 °C and 0.112 at 10 °C.
 */
export const saltUptakePerDay = (cut: Cut, temperatureC: number): number => ratesAt20C[cut] * arrheniusFactor(temperatureC, 20);

const ratesAt20C: Readonly<Record<Cut, number>> = { whole: 0.15, slit: 0.35, cracked: 0.8, pitted: 0.8 };
