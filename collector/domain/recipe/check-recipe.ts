import { addedCaution, oilCaution } from '../jar/cautions.ts';
import type { RecipeReading, Refusal } from './amount.ts';
import type { Brine, RecipeBrines } from './brines.ts';
import { brinesOf } from './brines.ts';
import type { MixtureSpans } from './corners.ts';
import { openOf, spansOf } from './corners.ts';
import type { CheckedLine } from './line-words.ts';
import { checkedLines } from './line-words.ts';
import { readRecipe } from './read-recipe.ts';
import type { RuleFinding } from './rules.ts';
import { keptPercent, rulesFor } from './rules.ts';
import type { Span } from './span.ts';
import { spanText } from './span.ts';
import { toldIn } from './told.ts';
import { slipOf, usualPouredPercent, usualSource } from './usual-strength.ts';

/** Where the weight of the fruit comes from: asked for, written in the recipe, or as much as a drum or jar usually holds for its brine. */
export const fruitBases = ['given', 'recipe', 'usual'] as const;
export type FruitBasis = (typeof fruitBases)[number];

export interface CheckedBrine {
  readonly name: string;
  /** The brine the fruit stays in. */
  readonly stays: boolean;
  /** Null: not enough of it could be read; the note says what. */
  readonly pouredPercentWw: Span | null;
  readonly settledPercentWw: Span | null;
  readonly aceticPouredPercent: Span | null;
  readonly aceticSettledPercent: Span | null;
  readonly fruit: FruitBasis;
  readonly note: string;
}

export interface RecipeCheck {
  readonly lines: readonly CheckedLine[];
  readonly brines: readonly CheckedBrine[];
  readonly rules: readonly RuleFinding[];
  readonly slips: readonly string[];
  readonly cautions: readonly string[];
}

/**
 * A recipe as written against the rules: everything it leaves open (cup, spoon, kind of salt, vinegar, stone and water of the fruit) is a span,
 * and so are the strengths; what cannot be read is named and makes the strength unknown. The pH is never worked out.
 *
 * Example: "½ cup table salt per 10 litres of water" pours 1.3 to 1.6 %: four times weaker than ½ cup per 10 cups.
 */
export const checkRecipe = (text: string, fruitKg: number | null = null): RecipeCheck => {
  const reading = readRecipe(text);
  const recipe = brinesOf(reading);
  const stays = stayingIn(recipe.brines);
  let earlierSaltPerWater = 0;
  const brines = recipe.brines.map((brine, index): CheckedBrine => {
    const strengths = index < mostBrines ? strengthsOf(brine, { recipe, reading, fruitKg, earlierSaltPerWater }) : unread(`Only the first ${String(mostBrines)} brines are worked out.`);
    earlierSaltPerWater = Math.max(earlierSaltPerWater, saltPerWater(strengths.pouredPercentWw?.high ?? saturatedPercent));
    return { ...strengths, name: recipe.brines.length === 1 ? 'The brine' : `Brine ${String(index + 1)}`, stays: brine === stays };
  });
  const told = toldIn(reading.lines.join('\n'));
  const slips = brines.flatMap(({ name, pouredPercentWw }) => (pouredPercentWw === null ? [] : slipWords(name, pouredPercentWw)));
  const cautions = [
    ...weakCaution(brines.filter(({ settledPercentWw }) => settledPercentWw !== null && settledPercentWw.low < keptPercent)),
    ...(told.underOil ? [oilCaution] : []),
    ...(told.garlic ? [addedCaution] : []),
  ];
  return { lines: checkedLines(reading), brines, rules: rulesFor(brines.map((brine) => ({ ...brine, plainWater: brine.pouredPercentWw?.high === 0 })), told), slips, cautions };
};

const weakCaution = (weak: readonly CheckedBrine[]): readonly string[] =>
  weak.length === 0 ? [] : [`${weak.map(({ name }) => name).join(' and ')} may settle under ${String(keptPercent)} %: change it daily, keep it cool and the fruit under, and do not store or jar in it.`];

/** The last brine that its words give to jars, else the last with salt in it. */
const stayingIn = (brines: readonly Brine[]): Brine | undefined =>
  brines.findLast(({ forJars }) => forJars) ?? brines.findLast(({ amounts, percent, refused }) => percent !== null || refused.length > 0 || amounts.some(({ substance }) => substance === 'salt' || substance === 'brine')) ?? brines.at(-1);

type Strengths = Omit<CheckedBrine, 'name' | 'stays'>;

const unread = (note: string): Strengths => ({ pouredPercentWw: null, settledPercentWw: null, aceticPouredPercent: null, aceticSettledPercent: null, fruit: 'usual', note });

/** More brines than any recipe has; each costs its corners. */
const mostBrines = 6;

/** Salt, water and acid that could not be measured leave the strength unknown; so does a measure of which nobody says what it is of. */
const spoils = ({ substance }: Refusal): boolean => substance === null || ['salt', 'water', 'vinegar', 'brine', 'other-acid', 'other-liquid'].includes(substance);

interface Around {
  readonly recipe: RecipeBrines;
  readonly reading: RecipeReading;
  readonly fruitKg: number | null;
  readonly earlierSaltPerWater: number;
}

const saltPerWater = (percent: number): number => Math.min(percent, saturatedPercent) / (100 - Math.min(percent, saturatedPercent));

const strengthsOf = (brine: Brine, around: Around): Strengths => {
  const { reading } = around;
  const refusal = brine.refused.find(spoils);
  if (refusal !== undefined) return unread(`Not worked out. "${refusal.text}": ${refusal.reason}.`);
  const has = (substance: string): boolean => brine.amounts.some((amount) => amount.substance === substance);
  const salted = brine.percent !== null || has('salt') || brine.amounts.some(({ substance, percent }) => substance === 'brine' && percent !== null);
  const saltIsMeasured = reading.items.some((item) => (item.kind === 'amount' && (item.amount.substance === 'salt' || item.amount.percent !== null)) || item.kind === 'strength');
  if (!salted && (has('brine') || !has('water') || (reading.mentioned.has('salt') && !saltIsMeasured))) return unread(has('water') ? 'Not worked out: the salt is named and not measured.' : 'Not worked out: neither salt nor a strength stands with it.');
  if (has('salt') && !has('water') && !has('brine') && brine.percent === null) return unread('Not worked out: it is not said in how much water the salt goes.');
  return onFruit(brine, around);
};

/** A litre of brine covers between a fifth of a kilogram of fruit and two; outside that the recipe is a rate, and is mixed to cover. */
const covering: Span = { low: 0.5, high: 5 };

const onFruit = (brine: Brine, { recipe: { fruit, vinegarPercent }, reading: { system }, fruitKg, earlierSaltPerWater }: Around): Strengths => {
  const own = brine.amounts.some(({ substance }) => substance === 'fruit') || fruit !== null;
  const basis: FruitBasis = fruitKg !== null ? 'given' : own ? 'recipe' : 'usual';
  const isAmount = brine.amounts.some(({ substance, unit }) => (substance === 'water' || substance === 'brine') && unit.dimension !== 'part');
  const find = (one: Brine, kg: number | null, amount: RecipeBrines['fruit']): MixtureSpans | null => {
    const surroundings = { fruitKg: kg, fruit: amount, vinegarPercent, earlierSaltPerWater };
    return spansOf(one, surroundings, openOf(one, surroundings, system));
  };
  const known = basis === 'usual' || !isAmount ? null : find(brine, fruitKg, fruit);
  const covers = known !== null && known.liquidL !== null && known.fruitKg !== null && known.liquidL.low >= covering.low * known.fruitKg.high && known.liquidL.high <= covering.high * known.fruitKg.low;
  const spans = covers ? known : find({ ...brine, amounts: brine.amounts.filter(({ substance }) => substance !== 'fruit') }, null, null);
  if (spans === null || spans.pouredPercentWw === null) return unread('Not worked out: it leaves too much open.');
  const note = covers ? '' : basis === 'usual'
    ? 'No weight of fruit: taken as 0.7 to 1.0 L of brine for a kilogram.'
    : 'The weight of fruit does not go with this much brine, or the recipe is a rate: taken as 0.7 to 1.0 L of brine for a kilogram.';
  const { pouredPercentWw, settledPercentWw, aceticPouredPercent, aceticSettledPercent } = spans;
  const notes = [
    pouredPercentWw.high === 0 ? 'Plain water.' : note,
    earlierSaltPerWater > 0 ? `The fruit may bring salt from the brine before${earlierSaltPerWater < saltPerWater(saturatedPercent) ? '' : ', nobody knows how much'}.` : '',
    pouredPercentWw.high > saturatedPercent ? `May be more salt than water dissolves (${String(saturatedPercent)} %).` : '',
  ];
  return { pouredPercentWw, settledPercentWw, aceticPouredPercent, aceticSettledPercent, fruit: covers ? basis : 'usual', note: notes.filter((words) => words !== '').join(' ') };
};

/** Saturated brine near 20 °C, % w/w. */
const saturatedPercent = 26.4;

const slipWords = (name: string, poured: Span): readonly string[] => {
  const slip = slipOf(poured);
  if (slip === null) return [];
  const [taken, meant] = slip.direction === 'weak' ? ['litres', 'cups'] : ['cups', 'litres'];
  return [`${name} pours ${spanText(poured, 1, '%')}, three times or more ${slip.direction === 'weak' ? 'under' : 'over'} the ${spanText(usualPouredPercent, 1, '%')} of ${usualSource}. ${taken === 'litres' ? 'Litres' : 'Cups'} may have been copied for ${meant ?? ''}: with ${meant ?? ''} it would be ${spanText(slip.insteadPercent, 1, '%')}.`];
};
