import type { Ingredient } from '../journal/ingredient.ts';
import type { EpochMs } from '../units/time.ts';
import type { IngredientUse } from './uses.ts';

export interface IngredientBalance {
  readonly received: number;
  readonly used: number;
  /** Uses whose amount nobody wrote. */
  readonly usesUnknown: number;
  readonly spilled: number;
  /** As counted last, less what was used since; null: nobody counted. */
  readonly onHand: number | null;
  /** What should be left by what was written. */
  readonly expected: number;
  readonly unaccounted: number | null;
  readonly percent: number | null;
  readonly verdict: 'balances' | 'does-not-balance' | 'unknown';
}

/** Above this share of what came in, a difference is looked at (assumption). */
export const ingredientFlagShare = 0.02;

/**
 * Whether an ingredient lot adds up: received = used + on hand + spilled + unaccounted, in the unit it came in. Flagged above 2 %.
 * Unknown while nobody counted what is left, or an amount was not written.
 *
 * Source: mass balance; the 2 % is an assumption.
 * Example: 25.00 kg of salt, 4.00 + 3.60 + 2.40 + 3.20 in brines, 0.48 in jars, 11.10 in the bag: 0.22 kg (0.9 %) unaccounted, balances.
 */
export const ingredientBalance = ({ quantity, counts }: Pick<Ingredient, 'quantity' | 'counts'>, uses: readonly Pick<IngredientUse, 'at' | 'quantity'>[], now: EpochMs): IngredientBalance => {
  const past = uses.filter(({ at }) => at <= now);
  const amount = (some: typeof past): number => some.reduce((sum, use) => sum + (use.quantity ?? 0), 0);
  const used = amount(past);
  const usesUnknown = past.filter((use) => use.quantity === null).length;
  const told = counts.filter(({ at }) => at <= now);
  const last = told.at(-1);
  const spilled = told.reduce((sum, count) => sum + count.spilled, 0);
  const onHand = last === undefined ? null : last.left - amount(past.filter(({ at }) => at > last.at));
  const expected = quantity - used - spilled;
  const unaccounted = onHand === null || usesUnknown > 0 ? null : expected - onHand;
  const share = unaccounted === null ? null : unaccounted / quantity;
  return {
    received: quantity,
    used,
    usesUnknown,
    spilled,
    onHand,
    expected,
    unaccounted,
    percent: share === null ? null : share * 100,
    verdict: share === null ? 'unknown' : Math.abs(share) > ingredientFlagShare ? 'does-not-balance' : 'balances',
  };
};
