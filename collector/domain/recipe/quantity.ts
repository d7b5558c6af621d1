import type { Span } from './span.ts';
import { exactly } from './span.ts';
import type { Token } from './token.ts';
import { markAt, wordAt } from './token.ts';
import { unitOf } from './unit.ts';
import type { MeasureSystem } from './unknown.ts';

/** How many, and the index of the token after. */
export interface Quantity {
  readonly count: Span;
  readonly next: number;
}

const words: Readonly<Record<string, number>> = { one: 1, two: 2, three: 3, four: 4, five: 5, six: 6, seven: 7, eight: 8, nine: 9, ten: 10, eleven: 11, twelve: 12 };
const shares: Readonly<Record<string, number>> = { half: 1 / 2, halves: 1 / 2, quarter: 1 / 4, quarters: 1 / 4, third: 1 / 3, thirds: 1 / 3 };

export const systems: Readonly<Record<string, MeasureSystem>> = { us: 'us', american: 'us', imperial: 'imperial', uk: 'imperial', british: 'imperial', metric: 'metric', australian: 'metric' };

/**
 * A quantity at a place in the text: `1 1/2`, `2-3`, `2 to 3`, `half a`, `three quarters of a`, `one and a half`, `a` before a measure.
 * Null when there is none. A range keeps both ends.
 */
export const quantityAt = (tokens: readonly Token[], index: number): Quantity | null => {
  const first = singleAt(tokens, index);
  if (first === null) return null;
  const joint = wordAt(tokens, first.next) ?? markAt(tokens, first.next);
  if (joint !== 'to' && joint !== 'or' && joint !== '-') return { count: exactly(first.value), next: first.next };
  const second = singleAt(tokens, first.next + 1);
  if (second === null || second.value < first.value) return { count: exactly(first.value), next: first.next };
  return { count: { low: first.value, high: second.value }, next: second.next };
};

interface Single {
  readonly value: number;
  readonly next: number;
}

const singleAt = (tokens: readonly Token[], index: number): Single | null => {
  const token = tokens[index];
  if (token?.kind === 'number') return withHalf(tokens, { value: token.value, next: index + 1 });
  const word = wordAt(tokens, index);
  if (word === null) return null;
  const share = Object.hasOwn(shares, word) ? shares[word] : undefined;
  if (share !== undefined) return { value: share, next: afterOfA(tokens, index + 1) };
  const value = Object.hasOwn(words, word) ? words[word] : undefined;
  if (value !== undefined) {
    const part = shareAt(tokens, index + 1);
    return part === null ? withHalf(tokens, { value, next: index + 1 }) : { value: value * part, next: afterOfA(tokens, index + 2) };
  }
  if (word !== 'a' && word !== 'an') return null;
  const part = shareAt(tokens, index + 1);
  if (part !== null) return { value: part, next: afterOfA(tokens, index + 2) };
  return startsUnit(tokens, index + 1) ? { value: 1, next: index + 1 } : null;
};

const shareAt = (tokens: readonly Token[], index: number): number | null => {
  const word = wordAt(tokens, index);
  return word !== null && Object.hasOwn(shares, word) ? (shares[word] ?? null) : null;
};

/** `1 and 1/2 cups`, `one and a half cups`, `2 and a quarter`. */
const withHalf = (tokens: readonly Token[], whole: Single): Single => {
  const joint = wordAt(tokens, whole.next) ?? markAt(tokens, whole.next);
  const fraction = tokens[whole.next + 1];
  if (/^(?:and|&|\+)$/.test(joint ?? '') && fraction?.kind === 'number' && fraction.isFraction === true && fraction.value < 1 && Number.isInteger(whole.value)) return { value: whole.value + fraction.value, next: whole.next + 2 };
  if (joint !== 'and' || wordAt(tokens, whole.next + 1) !== 'a') return whole;
  const part = shareAt(tokens, whole.next + 2);
  return part === null ? whole : { value: whole.value + part, next: whole.next + 3 };
};

/** `half a cup`, `three quarters of a cup`: the words in between say nothing more. */
const afterOfA = (tokens: readonly Token[], index: number): number => {
  const afterOf = wordAt(tokens, index) === 'of' ? index + 1 : index;
  const word = wordAt(tokens, afterOf);
  return (word === 'a' || word === 'an') && startsUnit(tokens, afterOf + 1) ? afterOf + 1 : index;
};

/** Whether a measure stands here, perhaps behind the word for its country or its filling. */
export const startsUnit = (tokens: readonly Token[], index: number): boolean => {
  const token = tokens[index];
  if (token?.kind !== 'word') return false;
  return unitOf(token.written) !== null || ((Object.hasOwn(systems, token.word) || /^(?:level|heap|heaped|heaping|rounded|scant|fluid|fl)/.test(token.word)) && startsUnit(tokens, index + 1));
};
