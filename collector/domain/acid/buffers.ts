import type { Result } from '../result.ts';
import { ok } from '../result.ts';
import type { OutsideValidRange } from '../valid-range.ts';
import { findOutside } from '../valid-range.ts';

/** A bottle marked "7" is 7.00 or 6.86 at 25 °C, by its set: the set is asked for, never assumed. */
export const bufferSets = ['phthalate', 'phosphate', 'borax', 'technical-4', 'technical-7', 'technical-10'] as const;
export type BufferSet = (typeof bufferSets)[number];

type Row = readonly [temperatureC: number, ph: number];

/**
 * pH of calibration buffers by temperature.
 *
 * Source: phthalate, phosphate and borax are the standard values of JIS Z 8802 (the NIST buffers to two decimals), as printed by an instrument
 * maker; the technical 4.00, 7.00 and 10.01 are from table 7 of an instrument manual (MI 611-211).
 */
const tables: Readonly<Record<BufferSet, readonly Row[]>> = {
  phthalate: [[0, 4.01], [5, 4.01], [10, 4], [15, 4], [20, 4], [25, 4.01], [30, 4.01], [35, 4.02], [40, 4.03], [50, 4.06], [60, 4.1]],
  phosphate: [[0, 6.98], [5, 6.95], [10, 6.92], [15, 6.9], [20, 6.88], [25, 6.86], [30, 6.85], [35, 6.84], [40, 6.84], [50, 6.83], [60, 6.84]],
  borax: [[0, 9.46], [5, 9.39], [10, 9.33], [15, 9.27], [20, 9.22], [25, 9.18], [30, 9.14], [35, 9.1], [40, 9.07], [50, 9.01], [60, 8.96]],
  'technical-4': [[0, 4], [5, 4], [10, 4], [15, 4], [20, 4], [25, 4], [30, 4.01], [35, 4.02], [40, 4.03], [45, 4.04], [50, 4.06]],
  'technical-7': [[0, 7.12], [5, 7.09], [10, 7.06], [15, 7.04], [20, 7.02], [25, 7], [30, 6.99], [35, 6.99], [40, 6.98], [45, 6.98], [50, 6.97]],
  'technical-10': [[0, 10.32], [5, 10.25], [10, 10.18], [15, 10.12], [20, 10.06], [25, 10.01], [30, 9.97], [35, 9.93], [40, 9.89], [45, 9.86], [50, 9.83]],
};

export const bufferSource: Readonly<Record<BufferSet, string>> = {
  phthalate: 'JIS Z 8802', phosphate: 'JIS Z 8802', borax: 'JIS Z 8802',
  'technical-4': 'Technical buffer table, manual MI 611-211', 'technical-7': 'Technical buffer table, manual MI 611-211', 'technical-10': 'Technical buffer table, manual MI 611-211',
};

export const bufferRange = (set: BufferSet): { readonly temperatureC: { readonly low: number; readonly high: number; readonly unit: string } } => ({
  temperatureC: { low: 0, high: tables[set].at(-1)?.[0] ?? 0, unit: '°C' },
});

/**
 * What a buffer really is at its temperature: the printed table, straight lines between its rows.
 *
 * Valid range: 0 to 60 °C, technical sets to 50 °C. Good to 0.01. Example: technical-7 at 12 °C is 7.052, phosphate 6.912.
 */
export const bufferPh = (set: BufferSet, temperatureC: number): Result<number, OutsideValidRange> => {
  const outside = findOutside({ temperatureC }, bufferRange(set));
  if (outside !== null) return outside;
  const rows = tables[set];
  const above = Math.max(1, rows.findIndex(([rowC]) => rowC >= temperatureC));
  const [highC, highPh] = rows[above] as Row;
  const [lowC, lowPh] = rows[above - 1] as Row;
  return ok(lowPh + ((highPh - lowPh) * (temperatureC - lowC)) / (highC - lowC));
};
