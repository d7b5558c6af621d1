import { z } from 'zod';
import { ingredientItems, ingredientUnits } from '#domain/journal/ingredient-entries.ts';
import { positive, slug, text, time } from './common.ts';

/** Lots of salt, vinegar, jars, lids and the like: what came in, what used it, what is left. */
const facts = {
  item: z.enum(ingredientItems),
  name: text(80),
  supplier: text(120).meta({ description: 'who sold or gave it, with the address where it is not known by the name' }),
  receivedAt: time,
  quantity: positive(1_000_000),
  unit: z.enum(ingredientUnits),
  theirLot: text(60).optional().meta({ description: 'the lot the supplier gave it' }),
  bestBefore: z.iso.date().optional(),
  note: text(500).optional(),
};

export const newIngredient = z.strictObject({ id: slug.optional().meta({ description: 'left out: made from the name and the day' }), ...facts, receivedAt: time.optional().meta({ description: 'left out: now' }) });
export type NewIngredient = z.infer<typeof newIngredient>;
export const toldIngredient = z.strictObject(facts);

export const newCount = z.strictObject({ at: time.optional(), left: z.number().min(0).max(1_000_000), spilled: z.number().min(0).max(1_000_000).optional(), note: text(500).optional() });
export type NewCount = z.infer<typeof newCount>;

export const ingredientBalance = z.object({
  received: z.number(),
  used: z.number(),
  usesUnknown: z.number().int().meta({ description: 'uses whose amount nobody wrote' }),
  spilled: z.number(),
  onHand: z.number().nullable().meta({ description: 'as counted last, less what was used since; null: nobody counted' }),
  expected: z.number().meta({ description: 'what should be left by what was written' }),
  unaccounted: z.number().nullable(),
  percent: z.number().nullable(),
  verdict: z.enum(['balances', 'does-not-balance', 'unknown']),
});

export const ingredient = z.object({
  id: z.string(),
  item: z.enum(ingredientItems),
  name: z.string(),
  supplier: z.string(),
  receivedAt: z.string(),
  quantity: z.number(),
  unit: z.enum(ingredientUnits),
  theirLot: z.string().nullable(),
  bestBefore: z.string().nullable(),
  note: z.string().nullable(),
  by: z.string(),
  toldAnew: z.number().int().meta({ description: 'how often its facts were mended' }),
  lastUsedAt: z.string().nullable(),
  uses: z.array(z.object({ lot: z.string(), entry: z.number().int(), at: z.string(), kind: z.string(), quantity: z.number().nullable() })),
  balance: ingredientBalance,
});
export type Ingredient = z.infer<typeof ingredient>;
export const ingredients = z.object({ ingredients: z.array(ingredient) });
export { ingredientItems, ingredientUnits, jarNotes, type IngredientItem, type IngredientUnit, type JarNote } from '#domain/journal/ingredient-entries.ts';
