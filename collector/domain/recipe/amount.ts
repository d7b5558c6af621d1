import type { Span } from './span.ts';
import type { Substance } from './substance.ts';
import type { Unit } from './unit.ts';
import type { MeasureSystem, SaltName } from './unknown.ts';

/** So much of something, as a recipe says it. */
export interface Amount {
  readonly count: Span;
  readonly unit: Unit;
  readonly substance: Substance;
  readonly saltName: SaltName;
  /** A strength said with it: of vinegar in g/100 mL, of brine in per cent of salt. */
  readonly percent: Span | null;
  /** Litres of which nobody says whether they are of water or of the finished brine. */
  readonly waterOrBrine: boolean;
  /** The recipe did not name it; what stands here was taken from how it is used. */
  readonly guessed: boolean;
  readonly text: string;
  /** Stands after "per", "in" or "to": what the amounts before it are for. */
  readonly isDenominator: boolean;
  /** Called fresh or new: not more of the same. */
  readonly isFresh: boolean;
  /** Stands after "+" or "plus": more of the same. */
  readonly isMore: boolean;
}

/** A strength with no amount: `8 % brine`, `vinegar of 5 %`. */
export interface Strength {
  readonly substance: 'brine' | 'vinegar';
  readonly percent: Span;
  readonly text: string;
}

export const refusalCodes = ['no-measure', 'not-level', 'egg', 'to-taste', 'what-of', 'not-known', 'doubtful-number', 'too-open'] as const;
export type RefusalCode = (typeof refusalCodes)[number];

/** Words that no amount can be made of, and why. */
export interface Refusal {
  readonly code: RefusalCode;
  readonly text: string;
  readonly substance: Substance | null;
  readonly reason: string;
}

/** `for-jars`: a word that tells that the brine here is the one the fruit stays in; `new-water`: a word that the water from here on is another; `break`: the end
 * of a clause. */
export type RecipeItem =
  | { readonly kind: 'amount'; readonly amount: Amount }
  | { readonly kind: 'strength'; readonly strength: Strength }
  | { readonly kind: 'refusal'; readonly refusal: Refusal }
  | { readonly kind: 'for-jars' }
  | { readonly kind: 'new-water' }
  | { readonly kind: 'break' };

export interface RecipeReading {
  readonly items: readonly RecipeItem[];
  readonly system: MeasureSystem | null;
  /** Everything the text speaks of, with an amount or without. */
  readonly mentioned: ReadonlySet<Substance>;
  /** The text as written, line by line, and the line of each item. */
  readonly lines: readonly string[];
  readonly lineOf: readonly number[];
}

/** Written behind the words refused: "a handful of salt": not a measure; ... */
export const refusalReasons: Readonly<Record<RefusalCode, string>> = {
  'no-measure': 'not a measure; weigh it once and write grams',
  'not-level': 'heaped or scant is not a measure; weigh it, or level it off',
  egg: 'a floating egg tells 5 to 12 % by its age; weigh the salt',
  'to-taste': 'not an amount, and nothing is tasted to find out whether it keeps',
  'what-of': 'it is not said of what',
  'not-known': 'not an ingredient known here, and it may thin the brine',
  'doubtful-number': 'can be read as two numbers, or as none',
  'too-open': 'leaves too much open to be worked out',
};
