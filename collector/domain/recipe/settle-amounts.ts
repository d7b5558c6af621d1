import type { Amount, RecipeItem } from './amount.ts';
import { refusalReasons } from './amount.ts';
import type { Span } from './span.ts';
import type { Substance } from './substance.ts';
import { nearestSubstance, saltNameIn, substanceIn } from './substance.ts';
import type { Unit } from './unit.ts';
import { fluidOunce } from './unit.ts';

/** A number with its measure and the words around it, before it is known of what. */
export interface RawAmount {
  readonly count: Span;
  readonly unit: Unit;
  readonly words: readonly string[];
  readonly before: readonly string[];
  readonly percent: Span | null;
  readonly text: string;
  readonly isDenominator: boolean;
  readonly isMore: boolean;
}

export type RawItem = { readonly kind: 'raw'; readonly raw: RawAmount } | Exclude<RecipeItem, { readonly kind: 'amount' }>;

/**
 * Of what each amount is: by the words behind it, else by those before it, else by its use: "1/3 cup in 2 L" is salt in water.
 * An amount that none of these explains is refused.
 */
export const settleAmounts = (items: readonly RawItem[]): readonly RecipeItem[] => {
  const raws = items.flatMap((item) => (item.kind === 'raw' ? [item.raw] : []));
  const named = raws.map(({ words, before }) => substanceIn(words) ?? (isPassing(words) ? nearestSubstance(before) : null));
  // "60 g/litre of salt": the salt is the grams, and the litre is of water or brine.
  for (const [i, raw] of raws.entries()) {
    const before = raws[i - 1];
    if (raw.isDenominator && named[i] === 'salt' && raw.unit.dimension === 'volume' && before !== undefined && (named[i - 1] ?? null) === null && isPassing(before.words)) [named[i - 1], named[i]] = ['salt', null];
  }
  const substances: (Substance | null)[] = raws.map((raw, i) => named[i] ?? byUse(raw, raws[i + 1], named[i + 1] ?? null));
  let index = -1;
  return items.flatMap((item): RecipeItem[] => {
    if (item.kind !== 'raw') return [item];
    index += 1;
    const { raw } = item;
    const substance = substances[index] ?? null;
    if (substance === null) {
      const code = isPassing(raw.words) || raw.isDenominator ? 'what-of' : 'not-known';
      return [{ kind: 'refusal', refusal: { code, text: raw.text, substance: null, reason: refusalReasons[code] } }];
    }
    // "100 g of salt per litre of brine": litres of what the salt makes, as near as a kitchen measures it.
    const isOwnBrine = substance === 'brine' && raw.isDenominator && raw.percent === null && raw.unit.dimension !== 'part' && substances[index - 1] === 'salt';
    return [{ kind: 'amount', amount: settled(raw, isOwnBrine ? 'water' : substance, isOwnBrine || named[index] === null || named[index] === undefined) }];
  });
};

/** Words that name nothing: `1 cup of`, `2 L cold`. */
const isPassing = (words: readonly string[]): boolean => words.every((word) => /^(?:of|the|cold|warm|hot|boiled|boiling|clean|fresh|about|dissolved|mixed|stirred|level|full)$/.test(word));

const byUse = (raw: RawAmount, after: RawAmount | undefined, afterNamed: Substance | null): Substance | null => {
  if (raw.isDenominator) return raw.unit.dimension === 'mass' || raw.words.some((word) => /^(?:jars?|drums?|buckets?|crocks?|barrels?|days?)$/.test(word)) ? null : 'water';
  // An ingredient nobody listed: by weight it is no part of the brine, by volume it may be a liquid.
  if (!isPassing(raw.words)) return raw.unit.dimension === 'mass' ? 'other' : null;
  if (after?.isMore === true && afterNamed !== null) return afterNamed;
  const isForWater = after?.isDenominator === true && (afterNamed === null || afterNamed === 'water' || afterNamed === 'brine');
  // Litres and gallons in litres are no salt.
  return isForWater && (raw.unit.dimension !== 'volume' || /^(?:cup|tablespoon|teaspoon)$/.test(raw.unit.name)) ? 'salt' : null;
};

const settled = (raw: RawAmount, substance: Substance, guessed: boolean): Amount => {
  const { count, unit, words, before, percent, text, isDenominator, isMore } = raw;
  const isLiquid = substance === 'water' || substance === 'vinegar' || substance === 'brine';
  return {
    count, substance, percent, text, guessed, isDenominator, isMore,
    isFresh: words.some((word) => /^(?:fresh|new|plain)$/.test(word)),
    // An ounce of a liquid in a kitchen is a fluid one.
    unit: isLiquid && unit.name === 'ounce' ? fluidOunce : unit,
    saltName: substance === 'salt' ? saltNameIn([...words, ...(words.length === 0 ? before : [])]) : 'any',
    waterOrBrine: substance === 'water' && guessed && isDenominator,
  };
};
