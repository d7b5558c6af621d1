import type { Span } from './span.ts';
import { measureSpan } from './unknown.ts';

/**
 * What published home recipes pour, in % w/w: the growers' association recipe (½ cup of table salt to 10 cups of water) and a home page
 * (1 cup to 5 L) both come to 5.8 %, and the brine the second finishes in (2 cups to 5 L) to 11.0 %.
 */
export const usualPouredPercent: Span = { low: 5.8, high: 11 };
export const usualSource = "a growers' association recipe and a home page of 2017, worked out for table salt";

/** Copying a recipe from cups to litres makes it four times weaker, and the other way four times stronger. */
const slipRatio = 3;

const perWater = (percent: number): number => percent / (100 - percent);
const percentOf = (saltPerWater: number): number => (100 * saltPerWater) / (1 + saltPerWater);

export interface Slip {
  readonly direction: 'weak' | 'strong';
  /** The poured strength with cups in place of litres, or litres in place of cups. */
  readonly insteadPercent: Span;
}

/** Salt to water at least three times outside the usual family, however the cup and the salt are meant. */
export const slipOf = (poured: Span): Slip | null => {
  const { low, high } = { low: perWater(poured.low), high: perWater(poured.high) };
  const cup = measureSpan('cup', null);
  if (high > 0 && high * slipRatio <= perWater(usualPouredPercent.low)) return { direction: 'weak', insteadPercent: { low: percentOf(low / cup.high), high: percentOf(high / cup.low) } };
  if (low >= slipRatio * perWater(usualPouredPercent.high)) return { direction: 'strong', insteadPercent: { low: percentOf(low * cup.low), high: percentOf(high * cup.high) } };
  return null;
};
