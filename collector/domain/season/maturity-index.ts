import type { Maturity } from '../cure/batch.ts';
import type { Result } from '../result.ts';
import { ok } from '../result.ts';
import type { OutsideValidRange, ValidRange } from '../valid-range.ts';
import { findOutside, outsideValidRange } from '../valid-range.ts';

/** What the eight classes look like, in the order they are counted. */
export const maturityClasses = [
  'deep green',
  'yellow-green',
  'green with reddish spots on less than half',
  'reddish or violet on more than half',
  'black skin, white or green flesh',
  'black skin, flesh violet less than half way to the stone',
  'black skin, flesh violet almost to the stone',
  'black skin, flesh violet to the stone',
] as const;

export const countRange = { low: 0, high: 100_000, unit: 'fruits' } as const satisfies ValidRange;

export interface MaturityIndex {
  readonly index: number;
  readonly stage: Maturity;
  readonly fruits: number;
}

/**
 * Harvest maturity index of a fruit sample.
 *
 * MI = Σ class × count / Σ count over the classes 0 to 7.
 *
 * Source: harvest maturity index of the Jaén research station, as told by olive growing handbooks (100 fruits drawn from about 1 kg).
 * Stage: green to 1, turning below 3.5, black from 3.5 on (assumption).
 * Units: none. Valid range: eight whole counts, at least one fruit; divided by the fruits really counted, not by 100.
 * Example: 5, 20, 35, 20, 12, 5, 2, 1 fruits give 2.42.
 */
export const maturityIndex = (counts: readonly number[]): Result<MaturityIndex, OutsideValidRange> => {
  if (counts.length !== maturityClasses.length) return outsideValidRange('counts', `counts must be ${maturityClasses.length} numbers, classes 0 to 7`);
  let fruits = 0;
  let sum = 0;
  for (const [maturityClass, count] of counts.entries()) {
    const field = `counts.${maturityClass}`;
    const outside = findOutside({ [field]: count }, { [field]: countRange });
    if (outside !== null) return outside;
    if (!Number.isInteger(count)) return outsideValidRange(field, `${field} must be a whole number of fruits`);
    fruits += count;
    sum += maturityClass * count;
  }
  if (fruits === 0) return outsideValidRange('counts', 'counts must hold at least one fruit');
  const index = sum / fruits;
  return ok({ index, stage: index <= 1 ? 'green' : index < 3.5 ? 'turning' : 'black', fruits });
};
