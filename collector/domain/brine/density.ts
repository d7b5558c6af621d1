import type { Result } from '../result.ts';
import { ok } from '../result.ts';
import type { OutsideValidRange } from '../valid-range.ts';
import { findOutside } from '../valid-range.ts';
import { brineRanges } from './range.ts';
import { waterDensity } from './water-density.ts';

export const densitySource =
  'Apparent-volume equation of Redlich and Meyer with temperature terms, fitted to the NaCl density table of Kaufmann 1960 (CRC, Perry); water after Kell 1975';

/**
 * Density of a sodium chloride brine, in kg/m³.
 *
 * 1/ρ = (1 - w)/ρ_water(t) + w·v, where the apparent specific volume of the salt (in L/kg) grows with q = √(w/(1 - w)):
 * v = a(t) + b(t)·q + c(t)·q²,  a = 0.2040188 + 3.966493e-3 t - 3.923899e-5 t²,
 * b = 0.2718582 - 5.387914e-3 t + 4.744497e-5 t²,  c = -0.07167723 + 1.512742e-3 t.
 *
 * Source: the form is the Redlich-Meyer equation (Chem. Rev. 64, 1964, 221) for apparent volumes; its eight numbers are a least squares
 * fit to the handbook table (Kaufmann, "Sodium Chloride", 1960; also CRC and Perry), 84 values from 1 to 26 % w/w and 0 to 40 °C.
 * Mean residual 0.06, worst 0.18 kg/m³, and pure water comes out as Kell's. Published coefficient sets were tried first: Laliberté and
 * Cooper 2004 leaves 1.0 (26 %, 40 °C), Simion 2015 leaves 1.0 (water, 0 °C); both stay in the tests as second opinions.
 *
 * Units: % w/w, °C, kg/m³. Valid range: `brineRanges`; the table ends at 26 %, the last half per cent to saturation is extrapolated.
 * Example: 10 % w/w at 20 °C gives 1070.63; 8 % w/w at 10 °C gives 1058.97.
 */
export const brineDensity = (percentWw: number, temperatureC: number): Result<number, OutsideValidRange> =>
  findOutside({ percentWw, temperatureC }, brineRanges) ?? ok(densityInRange(percentWw, temperatureC));

/** For callers that have checked the ranges. */
export const densityInRange = (percentWw: number, temperatureC: number): number => {
  const t = temperatureC;
  const w = percentWw / 100;
  const q2 = w / (1 - w);
  const q = Math.sqrt(q2);
  const a = 0.2040188 + t * (3.966493e-3 - t * 3.923899e-5);
  const b = 0.2718582 + t * (-5.387914e-3 + t * 4.744497e-5);
  const c = -0.07167723 + t * 1.512742e-3;
  const saltVolume = (a + b * q + c * q2) * 1e-3;
  const water = waterDensity(t);
  return water / (1 - w + w * saltVolume * water);
};
