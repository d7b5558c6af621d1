import { quantityAt, startsUnit, systems } from './quantity.ts';
import type { Span } from './span.ts';
import type { Token } from './token.ts';
import { markAt, wordAt } from './token.ts';
import type { Unit } from './unit.ts';
import { fluidOunce, unitOf } from './unit.ts';
import type { MeasureSystem } from './unknown.ts';

/** What stands behind a number: its measure, what it is of, and what is said of it in passing. */
export interface Phrase {
  readonly unit: Unit;
  readonly system: MeasureSystem | null;
  readonly isLevel: boolean;
  readonly words: readonly string[];
  readonly percent: Span | null;
  /** A weight, or litres, given in brackets behind a cup: it is the better word. */
  readonly weighed: { readonly count: Span; readonly unit: Unit } | null;
  readonly next: number;
}

/** Words that lead on to another amount. */
export const linkWords: ReadonlySet<string> = new Set(['per', 'in', 'into', 'to', 'for', 'each', 'every']);
export const aboutWords: ReadonlySet<string> = new Set(['about', 'around', 'approximately', 'approx', 'roughly', 'circa', 'ca', 'nearly', 'the', 'of', 'another', 'extra', 'again']);
export const moreWords: ReadonlySet<string> = new Set(['plus', 'and']);
const stops: ReadonlySet<string> = new Set([...linkWords, ...moreWords, 'with', 'then', 'or', 'until', 'on', 'at', 'over', 'from', 'by', 'is', 'are', 'was', 'be', 'should', 'makes', 'make', 'add']);

/** The measure at a place, with the words for its country and filling before it; null when none stands there. */
export const phraseAt = (tokens: readonly Token[], index: number): Phrase | null => {
  if (!startsUnit(tokens, index)) return null;
  let at = index;
  let system: MeasureSystem | null = null;
  let isLevel = true;
  let isFluid = false;
  for (;;) {
    const token = tokens[at];
    if (token?.kind !== 'word') return null;
    const unit = unitOf(token.written);
    if (unit !== null) return wordsAfter(tokens, at + 1, isFluid && unit.name === 'ounce' ? fluidOunce : unit, system, isLevel);
    if (Object.hasOwn(systems, token.word)) system = systems[token.word] ?? system;
    if (/^(?:heap|rounded|scant)/.test(token.word)) isLevel = false;
    if (/^(?:fl|fluid)$/.test(token.word)) isFluid = true;
    at += 1;
    if (markAt(tokens, at) === '.') at += 1;
  }
};

const wordsAfter = (tokens: readonly Token[], start: number, unit: Unit, system: MeasureSystem | null, isLevel: boolean): Phrase => {
  const words: string[] = [];
  let percent: Span | null = null;
  let weighed: Phrase['weighed'] = null;
  let at = start;
  // `tbsp. salt`: a point behind a short word, not the end of a sentence.
  const after = tokens[at + 1];
  if (markAt(tokens, at) === '.' && shortUnits.test(wordAt(tokens, at - 1) ?? '') && after?.kind === 'word' && after.written === after.word) at += 1;
  for (;;) {
    const token = tokens[at];
    if (token === undefined) break;
    if (token.kind === 'word' && !stops.has(token.word)) {
      words.push(token.word);
      at += 1;
    } else if (markAt(tokens, at) === '-' && words.length > 0 && wordAt(tokens, at + 1) !== null) {
      at += 1;
    } else if (markAt(tokens, at) === '(') {
      const inside = quantityAt(tokens, aboutWords.has(wordAt(tokens, at + 1) ?? '') ? at + 2 : at + 1);
      const close = closing(tokens, at);
      if (inside !== null && markAt(tokens, inside.next) === '%') percent = inside.count;
      const unitToken = inside === null ? undefined : tokens[inside.next];
      const bracketed = unitToken?.kind === 'word' ? unitOf(unitToken.written) : null;
      // A size given in millilitres or litres settles which cup, spoon or gallon is meant.
      const isSharper = bracketed?.dimension === 'mass' || (bracketed?.dimension === 'volume' && bracketed.measure === null && unit.dimension === 'volume');
      if (inside !== null && bracketed !== null && isSharper && close === inside.next + 1) weighed = { count: inside.count, unit: bracketed };
      // A bracket that holds a recipe of its own is read as one.
      if (inside !== null && percent === null && weighed === null) break;
      at = close + 1;
    } else if (token.kind === 'number') {
      const strength = quantityAt(tokens, at);
      if (strength === null || markAt(tokens, strength.next) !== '%') break;
      percent = strength.count;
      at = strength.next + 1;
    } else break;
  }
  return { unit, system, isLevel, words, percent, weighed, next: at };
};

const shortUnits = /^(?:c|tbsps?|tbs|tbl|tblsp|tsps?|oz|lbs?|gal|qts?|pts?|l|ml|g|gms?|kg)$/;

/** Where a bracket closes; one that is left open ends with its line. */
const closing = (tokens: readonly Token[], open: number): number => {
  for (let at = open + 1; at < tokens.length; at += 1) {
    if (markAt(tokens, at) === ')') return at;
    if (markAt(tokens, at) === 'line') return at - 1;
  }
  return tokens.length - 1;
};
