import type { Finding, Sample } from './finding.ts';
import type { Limit } from './limit.ts';

/**
 * Rule of kind `rebound`: the pH has risen by `high` or more from its lowest value in this brine.
 *
 * True when last - lowest ≥ high; over when it is below high - deadband. `values` are those since the brine was last renewed, oldest first:
 * fresh brine lifts the pH by itself.
 * Source: assumption of 0.2: more than two good measurements differ by, and what film yeast or moulds that eat acid are first seen by.
 * Example: 4.1, 4.0, 4.25: risen by 0.25 from 4.0: true.
 */
export const judgeRebound = (limit: Limit, values: readonly Sample[], isOn: boolean): Finding | null => {
  const { high } = limit;
  const last = values.at(-1);
  if (high === null || last === undefined) return null;
  const lowest = Math.min(...values.map(({ value }) => value));
  const rise = last.value - lowest;
  // Tenths do not add up exactly in binary.
  const need = high - (isOn ? limit.deadband : 0) - 1e-9;
  if (rise < need) return null;
  return {
    side: null,
    value: last.value,
    limitValue: lowest + high,
    text: `pH has risen from ${lowest.toFixed(2)} to ${last.value.toFixed(2)}.`,
    advice: 'Measure again with a checked meter. Look for film, mould and top-ups with plain water: what grows on top eats the acid. Skim, keep the fruit under, and hold the lot if pH goes above 4.6. A guide only: local rules decide.',
  };
};
