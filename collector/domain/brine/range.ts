import type { ValidRange } from '../valid-range.ts';

/** Sodium chloride in water as far as the density table goes and a little on, to saturation near room temperature (26.4 % w/w). */
export const brineRanges = {
  percentWw: { low: 0, high: 26.5, unit: '% w/w' },
  temperatureC: { low: 0, high: 40, unit: '°C' },
} as const satisfies Record<string, ValidRange>;

/** Molar masses that all conversions share, in g/mol. */
export const saltMolarMass = 58.443;
export const waterMolarMass = 18.015;
