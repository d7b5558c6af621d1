import type { Result } from '../result.ts';
import { ok } from '../result.ts';
import type { OutsideValidRange } from '../valid-range.ts';
import { findOutside, outsideValidRange } from '../valid-range.ts';

/**
 * Alternate bearing index: how strongly a tree's crop swings from year to year.
 *
 * I = 1/(n - 1) · Σ |a_i - a_{i-1}| / (a_i + a_{i-1}) over n years in a row; 0 is steady, 1 is all or nothing.
 *
 * Source: Pearce & Dobersek-Urbanc 1967, J. Hort. Sci. 42 (from memory). Two barren years in a row swing nothing.
 * Units: yield in any one unit, kg here; index without unit. Valid range: two years or more, none negative, not all zero.
 * Example: 18, 7, 18, 7 kg give 0.44.
 */
export const alternateBearingIndex = (yieldsKg: readonly number[]): Result<number, OutsideValidRange> => {
  if (yieldsKg.length < 2) return outsideValidRange('yieldsKg', 'yieldsKg must hold two years or more');
  let sum = 0;
  let most = 0;
  for (const [year, kg] of yieldsKg.entries()) {
    const field = `yieldsKg.${year}`;
    const outside = findOutside({ [field]: kg }, { [field]: { low: 0, high: 1_000_000, unit: 'kg' } });
    if (outside !== null) return outside;
    most = Math.max(most, kg);
    const before = yieldsKg[year - 1];
    if (before !== undefined && kg + before > 0) sum += Math.abs(kg - before) / (kg + before);
  }
  return most > 0 ? ok(sum / (yieldsKg.length - 1)) : outsideValidRange('yieldsKg', 'yieldsKg must hold a crop');
};
