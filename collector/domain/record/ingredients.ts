import type { Batch, Shed } from '../journal/shed.ts';
import { toRfc3339 } from '../units/time.ts';
import type { RecordIngredient } from './record-story.ts';

/** The lots of salt, acid, jars and the like that the standing acts of a lot name, by what they are. */
export const ingredientsOf = ({ ingredients }: Pick<Shed, 'ingredients'>, batch: Batch): readonly RecordIngredient[] => {
  const used = new Map<string, number[]>();
  const note = (ids: readonly string[], entry: number): void => {
    for (const id of ids) used.set(id, [...(used.get(id) ?? []), entry]);
  };
  note(batch.lots, batch.sequence);
  for (const { standing, body, sequence } of batch.acts) if (standing && 'lots' in body) note(body.lots ?? [], sequence);
  return [...used]
    .flatMap(([id, usedIn]) => {
      const known = ingredients.get(id);
      return known === undefined ? [] : [{ id, item: known.item, name: known.name, supplier: known.supplier, receivedAt: toRfc3339(known.receivedAt), theirLot: known.theirLot, bestBefore: known.bestBefore, usedIn }];
    })
    .sort((one, other) => (one.item < other.item ? -1 : 1));
};
