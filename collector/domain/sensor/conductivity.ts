import { densityInRange } from '../brine/density.ts';
import type { Result } from '../result.ts';
import { ok } from '../result.ts';
import { bisectRising } from '../stats/bisect.ts';
import type { OutsideValidRange, ValidRange } from '../valid-range.ts';
import { findOutside, outsideValidRange } from '../valid-range.ts';

export const conductivityRanges = {
  percentWw: { low: 0.4, high: 25.5, unit: '% w/w' },
  temperatureC: { low: 0, high: 35, unit: '°C' },
} as const satisfies Record<string, ValidRange>;

/**
 * Conductivity of a sodium chloride brine, in S/m.
 *
 * κ(w, t) = κ₂₀(w) · r(w, t); κ₂₀ = 0.1·w·(17.9739 - 2.44862 q + 0.430741 q² - 0.060932 q³), q = √w, w in % w/w;
 * r = r_sea + (r_sat - r_sea)·(w - 3.5)/22.9, both ratios 1 at 20 °C: r_sea that of sea water (3.5 % salt), r_sat that of saturated brine.
 *
 * Source: κ₂₀ fitted to the table of electrical conductivities in the CRC Handbook (20 °C; its NaCl row is from memory), worst residual 0.7 %;
 * r_sea is the polynomial r_t of the practical salinity scale PSS-78; r_sat a cubic through the conductivity of saturated NaCl printed in
 * the manual of a conductivity meter (0 to 35 °C). Valid range: 0.4 to 25.5 % w/w (the table goes from 0.5 to 25), 0 to 35 °C; good to about 2 %, the strong half to 1 %.
 * Example: 8 % w/w gives 10.49 S/m at 20 °C and 8.33 S/m at 10 °C.
 */
export const brineConductivity = (percentWw: number, temperatureC: number): Result<number, OutsideValidRange> =>
  findOutside({ percentWw, temperatureC }, conductivityRanges) ?? ok(conductivity(percentWw, temperatureC));

const conductivity = (w: number, t: number): number => {
  const q = Math.sqrt(w);
  const at20 = 0.1 * w * (17.9739 + q * (-2.44862 + q * (0.430741 - q * 0.060932)));
  const sea = seaRatio(t) / seaRatio(20);
  return at20 * (sea + ((saturatedRatio(t) - sea) * (w - 3.5)) / 22.9);
};

/** PSS-78 (Unesco 1981): conductivity of sea water at t against 15 °C. */
const seaRatio = (t: number): number => 0.6766097 + t * (2.00564e-2 + t * (1.104259e-4 + t * (-6.9698e-7 + t * 1.0031e-9)));

const saturatedRatio = (temperatureC: number): number => {
  const d = temperatureC - 20;
  return 1 + d * (0.0220925 + d * (7.52866e-5 + d * -8.50898e-7));
};

/**
 * Salt in a brine from its conductivity, uncompensated, and its temperature.
 *
 * `brineConductivity` solved for the strength, which it rises with up to saturation.
 *
 * Units: S/m (1 S/m = 10 mS/cm), °C; answers in % w/w and g/L. A meter that shows values "at 25 °C" has done the temperature already: then
 * 25 is the temperature to give. Above 15 % the curve is flat: 1 % of conductivity is 0.2 % of salt at 15 % and 0.4 % at 20 %. Acids and other
 * salts conduct too; sugar and bitter substances do not, unlike in a hydrometer.
 * Valid range: as `brineConductivity`. Refusals name `conductivitySPerM` or `temperatureC`. Example: 10.49 S/m at 20 °C is 8.0 % w/w, 84.4 g/L.
 */
export const salinityFromConductivity = (conductivitySPerM: number, temperatureC: number): Result<{ readonly percentWw: number; readonly gPerL: number }, OutsideValidRange> => {
  const outside = findOutside({ temperatureC }, { temperatureC: conductivityRanges.temperatureC });
  if (outside !== null) return outside;
  const { low, high } = conductivityRanges.percentWw;
  const lowest = conductivity(low, temperatureC);
  const highest = conductivity(high, temperatureC);
  if (!(conductivitySPerM >= lowest && conductivitySPerM <= highest)) {
    return outsideValidRange('conductivitySPerM', `conductivitySPerM must be from ${lowest.toPrecision(3)} to ${highest.toPrecision(4)} S/m at ${temperatureC} °C (${low} to ${high} % salt)`);
  }
  const percentWw = bisectRising((w) => conductivity(w, temperatureC), conductivitySPerM, low, high);
  return ok({ percentWw, gPerL: (percentWw / 100) * densityInRange(percentWw, temperatureC) });
};

export const conductivitySource = 'CRC Handbook conductivities at 20 °C, temperature by PSS-78 and saturated NaCl';
