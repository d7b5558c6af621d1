import type { Result } from '../result.ts';
import { ok } from '../result.ts';
import type { OutsideValidRange, ValidRange } from '../valid-range.ts';
import { findOutside, outsideValidRange } from '../valid-range.ts';
import { fruitDensityKgPerL } from './jar-fill.ts';

export interface DrumFill {
  readonly coverL: number;
  readonly fruitKg: number;
  readonly fruitL: number;
  readonly brineL: number;
  readonly brineLPerKg: number;
}

export interface DrumToFill {
  readonly innerDiameterCm: number;
  /** Fruit and brine together, to the working line. */
  readonly filledL: number;
  /** Height of brine over the fruit. */
  readonly coverCm: number;
  /** Fruit weighed in; default: as much as the bed below the cover holds. */
  readonly fruitKg?: number | undefined;
}

const ranges = {
  innerDiameterCm: { low: 5, high: 300, unit: 'cm' },
  filledL: { low: 0.2, high: 20_000, unit: 'L' },
  coverCm: { low: 0, high: 100, unit: 'cm' },
} as const satisfies Record<string, ValidRange>;

/**
 * How much fruit and how much brine a drum takes: fruit displaces brine.
 *
 * Cover = π/4 d² h; fruit = (filled - cover) × 0.60 kg/L; brine = filled - fruit / 1.04 kg/L.
 *
 * Source: bulk density 0.583 to 0.597 kg/L (Ozturk 2009; others 0.46 to 0.65) and true density 1.02 to 1.06 kg/L; volumes add.
 * Units: cm, L, kg. Valid range: `ranges`; the fruit must fit below the cover as a bed of at most 0.70 kg/L.
 * Example: 40 cm wide, 54 L, 5 cm of cover: 28.6 kg of fruit and 26.5 L of brine (0.92 L/kg), not 54.
 */
export const drumFill = ({ innerDiameterCm, filledL, coverCm, fruitKg: weighed }: DrumToFill): Result<DrumFill, OutsideValidRange> => {
  const outside = findOutside({ innerDiameterCm, filledL, coverCm }, ranges);
  if (outside !== null) return outside;
  const coverL = ((Math.PI / 4) * innerDiameterCm ** 2 * coverCm) / 1_000;
  const bedL = filledL - coverL;
  if (bedL <= 0) return outsideValidRange('coverCm', 'coverCm would be the whole drum');
  const fruitKg = weighed ?? bedL * bulkDensityKgPerL;
  const tooMuch = findOutside({ fruitKg }, { fruitKg: { low: 0, high: Math.round(bedL * densestBedKgPerL * 10) / 10, unit: 'kg' } });
  if (tooMuch !== null) return tooMuch;
  const fruitL = fruitKg / fruitDensityKgPerL;
  const brineL = filledL - fruitL;
  return ok({ coverL, fruitKg, fruitL, brineL, brineLPerKg: brineL / fruitKg });
};

export const bulkDensityKgPerL = 0.6;
const densestBedKgPerL = 0.7;
