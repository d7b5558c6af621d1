import type { Slug } from '../reading/reading.ts';
import type { EpochMs } from '../units/time.ts';
import type { IngredientItem, IngredientUnit } from './ingredient-entries.ts';

/** One lot of salt, vinegar, lids and the like, as it came in, with what the scale said of it since. */
export interface Ingredient {
  readonly id: Slug;
  readonly item: IngredientItem;
  readonly name: string;
  readonly supplier: string;
  readonly receivedAt: EpochMs;
  readonly quantity: number;
  readonly unit: IngredientUnit;
  readonly theirLot: string | null;
  readonly bestBefore: string | null;
  readonly note: string | null;
  readonly by: string;
  /** The entry that told it first, and every one that told it anew. */
  readonly sequence: number;
  readonly entries: readonly number[];
  readonly counts: readonly { readonly sequence: number; readonly at: EpochMs; readonly by: string; readonly left: number; readonly spilled: number }[];
}
