import type { Slug } from '../reading/reading.ts';
import type { Rfc3339 } from '../units/time.ts';

/** What comes into the shed and touches the fruit, or what it is measured with: one lot of each is told apart from the next. */
export const ingredientItems = ['salt', 'vinegar', 'acid', 'herbs', 'oil', 'water', 'jars', 'lids', 'buffer', 'cleaner', 'other'] as const;
export type IngredientItem = (typeof ingredientItems)[number];

export const ingredientUnits = ['kg', 'g', 'L', 'mL', 'pieces'] as const;
export type IngredientUnit = (typeof ingredientUnits)[number];

/** One lot as it came in. Told again under the same id, the facts take the place of what stood. */
export interface IngredientReceived {
  readonly id: Slug;
  readonly item: IngredientItem;
  readonly name: string;
  readonly supplier: string;
  readonly receivedAt: Rfc3339;
  readonly quantity: number;
  readonly unit: IngredientUnit;
  /** The lot the supplier gave it. */
  readonly theirLot?: string;
  /** A local date. */
  readonly bestBefore?: string;
  readonly note?: string;
  readonly key?: string;
}

/** What is left of it, by the scale; `spilled` since the last count, in the unit it came in. */
export interface IngredientCounted {
  readonly id: Slug;
  readonly at: Rfc3339;
  readonly left: number;
  readonly spilled?: number;
  readonly note?: string;
  readonly key?: string;
}

/** An act may say which lots it used. */
export interface UsesLots {
  readonly lots?: readonly Slug[];
}

/** What becomes of jars besides being given to a buyer; `counted`: how many are here. */
export const jarNotes = ['counted', 'tested', 'broken', 'gift', 'own use', 'spoiled', 'returned'] as const;
export type JarNote = (typeof jarNotes)[number];
