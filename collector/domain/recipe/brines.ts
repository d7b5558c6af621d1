import type { Amount, RecipeReading, Refusal, Strength } from './amount.ts';
import type { Span } from './span.ts';
import type { Substance } from './substance.ts';

/** Vinegar "per litre" where the brine was already measured: as much as this many of those litres. */
export interface RatedVinegar {
  readonly vinegar: Amount;
  readonly per: Amount;
}

/** One brine of a recipe: what goes into it, and what could not be read of it. */
export interface Brine {
  readonly amounts: readonly Amount[];
  readonly rated: readonly RatedVinegar[];
  /** A strength of salt in per cent that the recipe states. */
  readonly percent: Span | null;
  readonly refused: readonly Refusal[];
  /** The brine the fruit stays in, as the recipe's words say it; false: it does not say so. */
  readonly forJars: boolean;
}

export interface RecipeBrines {
  readonly brines: readonly Brine[];
  readonly vinegarPercent: Span | null;
  /** Fruit for all brines; null when none or when each brine has its own. */
  readonly fruit: Amount | null;
}

/**
 * The brines of a recipe, in order. A new one begins where salt, water, brine or vinegar is measured again and is not added to what went before.
 *
 * "1 cup per 5 L, then 2 cups per 5 L to finish" is two. "100 g salt per litre, 1 cup vinegar per litre" is one: the second litre is the same
 * litre. A word about jars, storing or finishing belongs to the brine of its own clause, else to the next one, else to the last.
 */
export const brinesOf = ({ items }: RecipeReading): RecipeBrines => {
  const brines: MutableBrine[] = [];
  let brine: MutableBrine = emptyBrine();
  let last: Amount | null = null;
  let afterBreak = true;
  let pending = false;
  let isNewWater = false;
  const start = (): void => {
    const vinegar = isEmpty(brine) ? brine.vinegar : [];
    if (!isEmpty(brine)) brines.push(brine);
    brine = { ...emptyBrine(), vinegar, forJars: pending };
    pending = false;
  };
  for (const [index, item] of items.entries()) {
    if (item.kind === 'break') afterBreak = true;
    else if (item.kind === 'new-water') isNewWater = true;
    else if (item.kind === 'for-jars') {
      if (afterBreak || isEmpty(brine)) pending = true;
      else brine.forJars = true;
    } else if (item.kind === 'refusal') {
      const { substance } = item.refusal;
      const isAgain = substance !== null && (brine.refused.some((one) => one.substance === substance) || brine.amounts.some((one) => startsAnew.has(one.substance) && one.substance === substance));
      // "1 cup and a handful of salt": the handful goes into the same brine, and nobody knows how much that is; "a handful in 5 L to finish" is another.
      if ((isAgain && pending) || (substance === 'salt' && brine.amounts.some((one) => one.substance === 'water' || one.substance === 'brine') && isFor(items.slice(index + 1)))) start();
      brine.refused.push(item.refusal);
      afterBreak = false;
    } else if (item.kind === 'strength') {
      if (item.strength.substance === 'vinegar') brine.vinegar.push(item.strength);
      else {
        if (brine.percent !== null || brine.amounts.some(({ substance }) => substance === 'salt')) start();
        brine.percent = item.strength.percent;
      }
      afterBreak = false;
    } else {
      const { amount } = item;
      // "1 cup in 1 L of boiling water, then add 4 L of cold water": the same brine, and five times weaker than the first litre.
      const isAdded = amount.substance === 'water' && !amount.isDenominator && !amount.isFresh && !isNewWater && !isSaltNext(items.slice(index + 1));
      const isMore = (amount.isMore || isAdded) && last?.substance === amount.substance;
      const isAgain = startsAnew.has(amount.substance) && brine.amounts.some(({ substance }) => substance === amount.substance);
      const isOther = amount.substance === 'brine' && brine.amounts.some(({ substance }) => substance === 'water') && (amount.percent !== null || brine.amounts.every(({ substance }) => substance !== 'salt'));
      // "Soak in 20 L. Then 1 cup of salt per 2 L": the salt belongs to the litres behind it.
      const isOwnWater = amount.substance === 'salt' && brine.amounts.some(({ substance }) => substance === 'water') && isFor(items.slice(index + 1));
      if ((isAgain && !isMore) || isOther || isOwnWater) {
        if (amount.substance === 'water' && amount.isDenominator && last?.substance === 'vinegar' && brine.amounts.at(-1) === last) {
          brine.amounts.pop();
          brine.rated.push({ vinegar: last, per: amount });
          last = amount;
          afterBreak = false;
          continue;
        }
        start();
      } else if (isEmpty(brine) && pending) start();
      brine.amounts.push(amount);
      isNewWater = false;
      last = amount;
      afterBreak = false;
    }
  }
  if (pending && !isEmpty(brine)) brine.forJars = true;
  start();
  // A strength of vinegar may stand behind everything measured.
  brines.push(brine);
  const stated = onlyOne(brines.flatMap(({ vinegar }) => vinegar));
  brines.pop();
  return { brines: brines.map(({ vinegar: _vinegar, ...rest }) => rest), vinegarPercent: stated, fruit: onlyFruit(brines) };
};

interface MutableBrine {
  amounts: Amount[];
  rated: RatedVinegar[];
  percent: Span | null;
  refused: Refusal[];
  vinegar: Strength[];
  forJars: boolean;
}

const emptyBrine = (): MutableBrine => ({ amounts: [], rated: [], percent: null, refused: [], vinegar: [], forJars: false });

/** Whether the next amount is the water or brine that the one before is for. */
const isFor = (rest: RecipeReading['items']): boolean => {
  const next = rest.find(({ kind }) => kind === 'amount' || kind === 'refusal');
  return next?.kind === 'amount' && next.amount.isDenominator && (next.amount.substance === 'water' || next.amount.substance === 'brine');
};

/** Water with its own salt behind it begins a brine. */
const isSaltNext = (rest: RecipeReading['items']): boolean => {
  const next = rest.find(({ kind }) => kind === 'amount' || kind === 'refusal' || kind === 'strength');
  return next?.kind === 'strength' || (next?.kind === 'amount' && next.amount.substance === 'salt') || (next?.kind === 'refusal' && next.refusal.substance === 'salt');
};

const isEmpty = ({ amounts, refused, percent }: MutableBrine): boolean => amounts.length === 0 && refused.length === 0 && percent === null;

const startsAnew: ReadonlySet<Substance> = new Set<Substance>(['salt', 'water', 'brine', 'vinegar']);

/** Vinegars of several strengths: from the weakest to the strongest. */
const onlyOne = (strengths: readonly Strength[]): Span | null =>
  strengths.length === 0 ? null : { low: Math.min(...strengths.map(({ percent }) => percent.low)), high: Math.max(...strengths.map(({ percent }) => percent.high)) };

const onlyFruit = (brines: readonly MutableBrine[]): Amount | null => {
  const fruit = brines.flatMap(({ amounts }) => amounts.filter(({ substance }) => substance === 'fruit'));
  return fruit.length === 1 ? (fruit[0] ?? null) : null;
};
