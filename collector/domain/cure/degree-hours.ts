import type { Result } from '../result.ts';
import { ok } from '../result.ts';
import type { OutsideValidRange } from '../valid-range.ts';
import { findOutside, outsideValidRange } from '../valid-range.ts';
import type { TemperatureSpan } from './temperature-span.ts';
import { temperatureRange, totalHours } from './temperature-span.ts';

export interface DegreeHours {
  readonly degreeHours: number;
  readonly hoursAbove: number;
  readonly highestC: number;
}

/**
 * Degree-hours above a base: how long and how far it was too warm.
 *
 * Σ hours × (T - base) over the time above the base; time below counts nothing, never negative. A span that crosses the base counts
 * from where it crosses.
 *
 * Source: good manufacturing practice for fermented sausage (base 15.6 °C). Its limits are for meat and say nothing about olives.
 * Units: °C, h. Valid range: -40 to 100 °C, at least one span with hours.
 * Example: 8 h at 24, 12 h at 22, 24 h at 18.5, 6 h at 15 and 10 h at 20 °C above 15.6 °C are 257.6 °C·h.
 */
export const degreeHours = (spans: readonly TemperatureSpan[], baseC: number): Result<DegreeHours, OutsideValidRange> => {
  const outside = findOutside({ baseC }, { baseC: temperatureRange });
  if (outside !== null) return outside;
  if (!(totalHours(spans) > 0)) return outsideValidRange('parts', 'parts must hold some hours');
  let sum = 0;
  let hoursAbove = 0;
  let highestC = -Infinity;
  for (const { hours, fromC, toC } of spans) {
    if (hours === 0) continue;
    const high = Math.max(fromC, toC);
    const low = Math.min(fromC, toC);
    highestC = Math.max(highestC, high);
    if (high <= baseC) continue;
    const above = low >= baseC ? hours : (hours * (high - baseC)) / (high - low);
    hoursAbove += above;
    sum += above * ((high + Math.max(low, baseC)) / 2 - baseC);
  }
  return ok({ degreeHours: sum, hoursAbove, highestC });
};
