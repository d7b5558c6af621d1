import type { Result } from '../result.ts';
import { ok } from '../result.ts';
import type { OutsideValidRange, ValidRange } from '../valid-range.ts';
import { findOutside, outsideValidRange } from '../valid-range.ts';

export interface HeatPart {
  readonly minutes: number;
  readonly temperatureC: number;
}

export const pasteurisationRanges = {
  referenceC: { low: 50, high: 125, unit: '°C' },
  zC: { low: 2, high: 20, unit: '°C' },
} as const satisfies Record<string, ValidRange>;

export const heatPartRanges = {
  minutes: { low: 0, high: 10_000, unit: 'min' },
  temperatureC: { low: 0, high: 130, unit: '°C' },
} as const satisfies Record<string, ValidRange>;

/**
 * Pasteurisation units: minutes at a reference temperature that would kill as much.
 *
 * PU = Σ minutes × 10^((T - T_ref)/z), T at the coldest point of the jar.
 *
 * Source: table olive glossary of the International Olive Council (propionic bacteria: 62.4 °C, z 5.25 °C). A target of 15 is from memory.
 * Units: min, °C; PU in minutes at the reference. Valid range: 0 to 130 °C, reference 50 to 125 °C, z 2 to 20 °C.
 * Only for a pack that is already acid: it does not kill the spores of Clostridium botulinum.
 * Example: 10 min at 70 °C are 280 PU; 8 min at 75 °C, 2009.
 */
export const pasteurisationUnits = (
  parts: readonly HeatPart[],
  referenceC: number = propionicReferenceC,
  zC: number = propionicZC,
): Result<number, OutsideValidRange> => {
  const outside = findOutside({ referenceC, zC }, pasteurisationRanges);
  if (outside !== null) return outside;
  if (parts.length === 0) return outsideValidRange('parts', 'parts must hold some minutes');
  let units = 0;
  for (const [i, { minutes, temperatureC }] of parts.entries()) {
    const field = `parts.${i}`;
    const wrong = findOutside(
      { [`${field}.minutes`]: minutes, [`${field}.temperatureC`]: temperatureC },
      { [`${field}.minutes`]: heatPartRanges.minutes, [`${field}.temperatureC`]: heatPartRanges.temperatureC },
    );
    if (wrong !== null) return wrong;
    units += minutes * 10 ** ((temperatureC - referenceC) / zC);
  }
  return ok(units);
};

export const propionicReferenceC = 62.4;
export const propionicZC = 5.25;
