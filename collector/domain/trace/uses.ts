import type { IngredientItem, IngredientUnit } from '../journal/ingredient-entries.ts';
import type { Ingredient } from '../journal/ingredient.ts';
import { isAct, type Batch, type Shed, type StoryAct } from '../journal/shed.ts';
import type { Slug } from '../reading/reading.ts';
import type { EpochMs } from '../units/time.ts';

/** One act that used an ingredient lot. */
export interface IngredientUse {
  readonly ingredient: Slug;
  readonly lot: string;
  readonly entry: number;
  readonly at: EpochMs;
  readonly kind: StoryAct['kind'] | 'batch-opened';
  /** In the unit the lot came in; null where nobody wrote how much. */
  readonly quantity: number | null;
}

/** Every use that was written, each once: what a part shares with the lot it was split from stands there. */
export const usesIn = (shed: Pick<Shed, 'batches' | 'ingredients'>): readonly IngredientUse[] =>
  [...shed.batches.values()].flatMap((batch) => [...(batch.from === null ? openingUses(shed, batch) : []), ...batch.written.flatMap((act) => actUses(shed, batch.lot, act))]);

/** Every use a lot has in it, that of the story it shares among them. */
export const usesOf = (shed: Pick<Shed, 'batches' | 'ingredients'>, batch: Batch): readonly IngredientUse[] => [
  ...openingUses(shed, batch),
  ...batch.acts.flatMap((act) => actUses(shed, batch.lot, act)),
];

interface Amounts {
  readonly saltG: number | null;
  readonly acidMl: number | null;
  readonly waterL: number | null;
  readonly jars: number | null;
}

const none: Amounts = { saltG: null, acidMl: null, waterL: null, jars: null };

const openingUses = (shed: Pick<Shed, 'ingredients'>, batch: Batch): readonly IngredientUse[] =>
  shared(shed, batch.lots, { lot: batch.lineage[0] ?? batch.lot, entry: batch.sequence, at: batch.startedAt, kind: 'batch-opened' }, { ...none, saltG: batch.opened.brineL * batch.saltGPerL, waterL: batch.opened.brineL, acidMl: batch.acid?.ml ?? null });

const actUses = (shed: Pick<Shed, 'ingredients'>, lot: string, act: StoryAct): readonly IngredientUse[] => {
  if (!act.standing || !('lots' in act.body) || act.body.lots === undefined) return [];
  return shared(shed, act.body.lots, { lot, entry: act.sequence, at: act.at, kind: act.kind }, amountsOf(act));
};

const amountsOf = (act: StoryAct): Amounts => {
  if (isAct('brine-changed')(act) || isAct('brine-topped-up')(act)) return { ...none, saltG: act.body.brineL * act.body.saltGPerL, waterL: act.body.brineL };
  if (isAct('salt-added')(act)) return { ...none, saltG: act.body.saltG };
  if (isAct('acid-added')(act)) return { ...none, acidMl: act.body.ml };
  if (isAct('jarred')(act)) return { ...none, saltG: act.body.saltG ?? null, jars: act.body.jars };
  return none;
};

/** Two lots of one kind in one act: nobody wrote how much of each, so each is taken for half (assumption). */
const shared = (shed: Pick<Shed, 'ingredients'>, lots: readonly Slug[], use: Omit<IngredientUse, 'ingredient' | 'quantity'>, amounts: Amounts): readonly IngredientUse[] => {
  const known = lots.flatMap((id) => shed.ingredients.get(id) ?? []);
  return known.map((ingredient) => {
    const whole = quantityOf(ingredient, amounts);
    const alike = known.filter((other) => isAlike(other.item, ingredient.item)).length;
    return { ...use, ingredient: ingredient.id, quantity: whole === null ? null : whole / alike };
  });
};

/** Of what is one amount: jars and lids are counted alike and are not the same. */
const isAlike = (one: IngredientItem, other: IngredientItem): boolean => one === other || (amountKey[one] === 'acidMl' && amountKey[other] === 'acidMl');

const amountKey: Readonly<Record<IngredientItem, keyof Amounts | null>> = {
  salt: 'saltG', vinegar: 'acidMl', acid: 'acidMl', water: 'waterL', jars: 'jars', lids: 'jars', herbs: null, oil: null, buffer: null, cleaner: null, other: null,
};

/** How much of one unit makes an amount of another; a pairing that is not here cannot be counted up. */
const perUnit: Readonly<Record<keyof Amounts, Partial<Record<IngredientUnit, number>>>> = {
  saltG: { kg: 1 / 1_000, g: 1 },
  acidMl: { L: 1 / 1_000, mL: 1 },
  waterL: { L: 1, mL: 1_000 },
  jars: { pieces: 1 },
};

const quantityOf = ({ item, unit }: Ingredient, amounts: Amounts): number | null => {
  const key = amountKey[item];
  const amount = key === null ? null : amounts[key];
  const factor = key === null ? undefined : perUnit[key][unit];
  return amount === null || factor === undefined ? null : amount * factor;
};
