import type { Result } from '../result.ts';
import { ok } from '../result.ts';
import { bisectRising } from '../stats/bisect.ts';
import type { OutsideValidRange, ValidRange } from '../valid-range.ts';
import { findOutside, outsideValidRange } from '../valid-range.ts';
import { densityInRange } from './density.ts';
import { brineRanges, saltMolarMass } from './range.ts';
import { percentWwFromSalometer, salometerDegrees } from './salometer.ts';
import { waterActivity } from './water-activity.ts';

/** What "10 % salt" may mean. They differ by up to a tenth of their value, so a strength is never stored without its basis. */
export const brineBases = ['percent-ww', 'g-per-100g-water', 'percent-wv', 'g-per-l', 'molality', 'salometer', 'density'] as const;
export type BrineBasis = (typeof brineBases)[number];

export interface BrineStrength {
  readonly percentWw: number;
  readonly gPer100GWater: number;
  readonly percentWv: number;
  readonly gPerL: number;
  readonly molality: number;
  readonly salometer: number;
  readonly densityKgPerM3: number;
  readonly waterActivity: number;
}

/**
 * One brine in every basis.
 *
 * w is % w/w: g per 100 g water = 100 w/(100 - w); g/L = 10 w·ρ(g/mL); % w/v = g/L / 10; molality = 1000 w/(58.443 (100 - w)).
 *
 * Source: definitions; density by `brineDensity`. Volumes (% w/v, g/L, density) are those at the brine's own temperature.
 * Example: 10 % w/w at 20 °C is 11.11 g/100 g water, 107.07 g/L, 1.901 mol/kg, 37.9 °S.
 */
export const brineStrength = (percentWw: number, temperatureC: number): Result<BrineStrength, OutsideValidRange> =>
  findOutside({ percentWw, temperatureC }, brineRanges) ?? ok(strengthInRange(percentWw, temperatureC));

const strengthInRange = (percentWw: number, temperatureC: number): BrineStrength => {
  const densityKgPerM3 = densityInRange(percentWw, temperatureC);
  const gPerL = (percentWw / 100) * densityKgPerM3;
  const gPer100GWater = (100 * percentWw) / (100 - percentWw);
  const molality = (10 * gPer100GWater) / saltMolarMass;
  return {
    percentWw, gPer100GWater, percentWv: gPerL / 10, gPerL, molality,
    salometer: salometerDegrees(percentWw), densityKgPerM3, waterActivity: waterActivity(molality),
  };
};

/** Strength in % w/w from a value on any basis; the field named in a refusal is `value` or `temperatureC`. */
export const percentWwFrom = (basis: BrineBasis, value: number, temperatureC: number): Result<number, OutsideValidRange> => {
  const outside = findOutside({ temperatureC }, { temperatureC: brineRanges.temperatureC });
  if (outside !== null) return outside;
  const { low, high, unit } = strengthRange(basis, temperatureC);
  if (!(value >= low && value <= high)) {
    const range = `from ${low.toPrecision(6)} to ${high.toPrecision(6)} ${unit} at ${temperatureC} °C`;
    return outsideValidRange('value', `value must be ${range}: the strength of a salt brine from plain water to saturation`);
  }
  return ok(conversions[basis].from(value, temperatureC));
};

/** From plain water to saturation on any basis; the temperature must be inside `brineRanges`. */
export const strengthRange = (basis: BrineBasis, temperatureC: number): ValidRange => {
  const { to, unit } = conversions[basis];
  return { low: to(brineRanges.percentWw.low, temperatureC), high: to(brineRanges.percentWw.high, temperatureC), unit };
};

/** One brine, given on any basis, in every basis. */
export const convertBrine = (basis: BrineBasis, value: number, temperatureC: number): Result<BrineStrength, OutsideValidRange> => {
  const percentWw = percentWwFrom(basis, value, temperatureC);
  return percentWw.ok ? ok(strengthInRange(percentWw.value, temperatureC)) : percentWw;
};

interface Conversion {
  readonly unit: string;
  readonly from: (value: number, temperatureC: number) => number;
  readonly to: (percentWw: number, temperatureC: number) => number;
}

const gPerLFrom = (percentWw: number, temperatureC: number): number => (percentWw / 100) * densityInRange(percentWw, temperatureC);
const solve = (to: Conversion['to']): Conversion['from'] => (value, temperatureC) =>
  bisectRising((percentWw) => to(percentWw, temperatureC), value, brineRanges.percentWw.low, brineRanges.percentWw.high);
const percentWvFrom: Conversion['to'] = (percentWw, temperatureC) => gPerLFrom(percentWw, temperatureC) / 10;

const conversions: Readonly<Record<BrineBasis, Conversion>> = {
  'percent-ww': { unit: '% w/w', from: (value) => value, to: (percentWw) => percentWw },
  'g-per-100g-water': { unit: 'g/100 g water', from: (grams) => (100 * grams) / (100 + grams), to: (w) => (100 * w) / (100 - w) },
  'percent-wv': { unit: 'g/100 mL', from: solve(percentWvFrom), to: percentWvFrom },
  'g-per-l': { unit: 'g/L', from: solve(gPerLFrom), to: gPerLFrom },
  molality: {
    unit: 'mol/kg water',
    from: (molality) => (100 * molality * saltMolarMass) / (1_000 + molality * saltMolarMass),
    to: (w) => (1_000 * w) / (saltMolarMass * (100 - w)),
  },
  salometer: { unit: '°S', from: (degrees) => percentWwFromSalometer(degrees), to: (w) => salometerDegrees(w) },
  density: { unit: 'kg/m³', from: solve(densityInRange), to: densityInRange },
};
