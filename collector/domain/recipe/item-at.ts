import type { RefusalCode } from './amount.ts';
import { refusalReasons } from './amount.ts';
import { linkWords, moreWords, phraseAt } from './phrase.ts';
import { quantityAt } from './quantity.ts';
import type { RawItem } from './settle-amounts.ts';
import type { Span } from './span.ts';
import { exactly } from './span.ts';
import type { Substance } from './substance.ts';
import { nearestSubstance, substanceIn } from './substance.ts';
import type { Token } from './token.ts';
import { markAt, wordAt } from './token.ts';
import { part } from './unit.ts';
import type { MeasureSystem } from './unknown.ts';

/** Where the reader is: what leads up to the next amount. */
export interface Place {
  readonly plain: string;
  readonly tokens: readonly Token[];
  readonly at: number;
  readonly link: 'denominator' | 'more' | null;
  readonly before: readonly string[];
}

/** What was read here, and the token to go on from. */
export interface Read {
  readonly items: readonly RawItem[];
  readonly next: number;
  readonly system?: MeasureSystem | null;
}

/** What stands at a place, if it is anything; the first reader that knows it has it. */
export const itemAt = (place: Place): Read | null => {
  for (const read of [amount, strength, ratio, doubtful, measureless, egg, toTaste]) {
    const found = read(place);
    if (found !== null) return found;
  }
  return null;
};

const textOf = ({ plain, tokens }: Place, from: number, to: number): string => plain.slice(tokens[from]?.from ?? 0, tokens[to - 1]?.to ?? plain.length);

const refusal = (code: RefusalCode, text: string, substance: Substance | null): RawItem => ({ kind: 'refusal', refusal: { code, text, substance, reason: refusalReasons[code] } });

/** `2 cups of water`, and behind a link also `litre` alone. */
const amount = (place: Place): Read | null => {
  const { tokens, at, link, before } = place;
  const quantity = quantityAt(tokens, at);
  if (quantity === null && link !== 'denominator') return null;
  const phrase = phraseAt(tokens, quantity?.next ?? at);
  if (phrase === null) return null;
  const text = textOf(place, at, phrase.next);
  const { words, percent, weighed, next, system } = phrase;
  if (!phrase.isLevel && weighed === null) return { items: [refusal('not-level', text, substanceIn(words) ?? nearestSubstance(before))], next, system };
  const { count, unit } = weighed ?? { count: quantity?.count ?? exactly(1), unit: phrase.unit };
  return { items: [{ kind: 'raw', raw: { count, unit, words, before, percent, text, isDenominator: link === 'denominator', isMore: link === 'more' } }], next, system };
};

/** `8 % brine`, `vinegar, 5 % acidity`. */
const strength = (place: Place): Read | null => {
  const { tokens, at, before } = place;
  const quantity = quantityAt(tokens, at);
  if (quantity === null || markAt(tokens, quantity.next) !== '%') return null;
  const { words, next } = wordsFrom(tokens, quantity.next + 1);
  const substance = substanceIn(words) ?? nearestSubstance(before);
  const of = substance === 'vinegar' || words.some((word) => /^(?:acid|acidity|acetic)$/.test(word)) ? 'vinegar' : substance === 'brine' || substance === 'salt' ? 'brine' : null;
  return { items: of === null ? [] : [{ kind: 'strength', strength: { substance: of, percent: quantity.count, text: textOf(place, at, next) } }], next };
};

/** `10:1 brine to vinegar`: two amounts in parts. */
const ratio = (place: Place): Read | null => {
  const { tokens, at } = place;
  const first = quantityAt(tokens, at);
  if (first === null || markAt(tokens, first.next) !== ':') return null;
  const second = quantityAt(tokens, first.next + 1);
  if (second === null) return null;
  const one = wordsFrom(tokens, second.next);
  const other = wordsFrom(tokens, one.next + 1);
  if (substanceIn(one.words) === null || substanceIn(other.words) === null) return { items: [refusal('what-of', textOf(place, at, second.next), null)], next: second.next };
  const text = textOf(place, at, other.next);
  const raw = (count: Span, words: readonly string[]): RawItem => ({ kind: 'raw', raw: { count, unit: part, words, before: [], percent: null, text, isDenominator: false, isMore: false } });
  return { items: [raw(first.count, one.words), raw(second.count, other.words)], next: other.next };
};

const doubtful = (place: Place): Read | null => {
  const { tokens, at, before } = place;
  // `3-2 cups` may be a range turned round, a dash or a slip of the pen.
  const first = tokens[at]?.kind === 'doubtful' ? at + 1 : quantityAt(tokens, at)?.next;
  const second = markAt(tokens, first ?? at) === '-' || wordAt(tokens, first ?? at) === 'to' || wordAt(tokens, first ?? at) === 'or' ? quantityAt(tokens, (first ?? at) + 1) : null;
  if (first === undefined || (tokens[at]?.kind !== 'doubtful' && second === null)) return null;
  const phrase = phraseAt(tokens, second?.next ?? first);
  if (phrase === null && tokens[at]?.kind !== 'doubtful') return null;
  const next = phrase?.next ?? first;
  return { items: [refusal('doubtful-number', textOf(place, at, next), substanceIn(phrase?.words ?? []) ?? nearestSubstance(before))], next };
};

/** Words that stand for an amount and are none. The second list is only meant so in front of something that matters. */
const noMeasure = /^(?:handfuls?|fistfuls?|pinch(?:es)?|dash(?:es)?|splash(?:es)?|glugs?|drizzles?|knobs?|scoops?|scoopfuls?|ladles?|ladlefuls?|spoons?|spoonfuls?)$/;
const vague = /^(?:some|more|enough|plenty|little|bit|lots?|mugs?|mugfuls?|glass(?:es)?|bowls?|bowlfuls?|buckets?|bucketfuls?)$/;
const matters: ReadonlySet<Substance | null> = new Set<Substance | null>(['salt', 'water', 'vinegar', 'brine', 'other-acid']);

const measureless = (place: Place): Read | null => {
  const { tokens, at, before } = place;
  // `a handful`, `3 buckets`: the number in front does not make it a measure.
  const counted = quantityAt(tokens, at)?.next ?? (/^(?:an?)$/.test(wordAt(tokens, at) ?? '') ? at + 1 : at);
  const word = wordAt(tokens, counted) ?? '';
  if (!noMeasure.test(word) && !vague.test(word)) return null;
  const { words, next } = wordsFrom(tokens, counted + 1);
  const substance = substanceIn(words) ?? (noMeasure.test(word) ? nearestSubstance(before) : null);
  // "Cover with enough water" measures nothing and asks for nothing.
  const isCover = substance === 'water' && /^(?:some|more|enough|plenty|lots?)$/.test(word);
  return { items: matters.has(substance) && !isCover ? [refusal('no-measure', textOf(place, at, next), substance)] : [], next };
};

const egg = (place: Place): Read | null =>
  /^(?:eggs?|potato)$/.test(wordAt(place.tokens, place.at) ?? '') ? { items: [refusal('egg', textOf(place, Math.max(0, place.at - 2), place.at + 2), 'salt')], next: place.at + 1 } : null;

const toTaste = (place: Place): Read | null => {
  const { tokens, at, before } = place;
  if (wordAt(tokens, at) !== 'to' || wordAt(tokens, at + 1) !== 'taste') return null;
  const substance = nearestSubstance(before);
  return { items: matters.has(substance) ? [refusal('to-taste', textOf(place, Math.max(0, at - 1), at + 2), substance)] : [], next: at + 2 };
};

/** The words up to the next number, mark or link. */
const wordsFrom = (tokens: readonly Token[], start: number): { readonly words: readonly string[]; readonly next: number } => {
  const words: string[] = [];
  let at = start;
  for (let word = wordAt(tokens, at); word !== null && !linkWords.has(word) && !moreWords.has(word) && words.length < mostWords; word = wordAt(tokens, at)) {
    words.push(word);
    at += 1;
  }
  return { words, next: at };
};

const mostWords = 6;
