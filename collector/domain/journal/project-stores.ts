import { fromRfc3339 } from '../units/time.ts';
import type { Entry, EntryOf } from './entry.ts';
import type { Ingredient } from './ingredient.ts';
import { withEntry } from './map.ts';
import type { Shed } from './shed.ts';

const storesKinds = ['ingredient-received', 'ingredient-counted', 'producer-set', 'recall-exercise', 'backup-made'] as const;
type StoresEntry = EntryOf<(typeof storesKinds)[number]>;

export const isStoresEntry = (entry: Entry): entry is StoresEntry => (storesKinds as readonly string[]).includes(entry.kind);

/** What the shed knows of its stores, of who answers for the product, of exercises and of backups. */
export const projectStores = (shed: Shed, entry: StoresEntry): Shed => {
  switch (entry.kind) {
    case 'ingredient-received':
      return receive(shed, entry);
    case 'ingredient-counted':
      return count(shed, entry);
    case 'producer-set':
      return { ...shed, producer: entry.body };
    case 'recall-exercise':
      return { ...shed, recallExercises: [...shed.recallExercises, entry.body] };
    case 'backup-made':
      return { ...shed, lastBackupAt: fromRfc3339(entry.time) };
  }
};

const receive = (shed: Shed, { body, who, sequence }: EntryOf<'ingredient-received'>): Shed => {
  const before = shed.ingredients.get(body.id);
  const ingredient: Ingredient = {
    id: body.id,
    item: body.item,
    name: body.name,
    supplier: body.supplier,
    receivedAt: fromRfc3339(body.receivedAt),
    quantity: body.quantity,
    unit: body.unit,
    theirLot: body.theirLot ?? null,
    bestBefore: body.bestBefore ?? null,
    note: body.note ?? null,
    by: before?.by ?? who,
    sequence: before?.sequence ?? sequence,
    entries: [...(before?.entries ?? []), sequence],
    counts: before?.counts ?? [],
  };
  return { ...shed, ingredients: withEntry(shed.ingredients, body.id, ingredient) };
};

const count = (shed: Shed, { body, who, sequence }: EntryOf<'ingredient-counted'>): Shed => {
  const ingredient = shed.ingredients.get(body.id);
  if (ingredient === undefined) return shed;
  const told = { sequence, at: fromRfc3339(body.at), by: who, left: body.left, spilled: body.spilled ?? 0 };
  const counts = [...ingredient.counts, told].sort((one, other) => one.at - other.at || one.sequence - other.sequence);
  return { ...shed, ingredients: withEntry(shed.ingredients, body.id, { ...ingredient, counts }) };
};
