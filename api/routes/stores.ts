import type { NewIngredient } from '#contract';
import { localDate } from '#domain/cure/stage.ts';
import { byUser } from '#domain/journal/entry.ts';
import { usesIn } from '#domain/trace/uses.ts';
import { sequenceOfKey } from '#domain/journal/written-keys.ts';
import { toRfc3339, type EpochMs } from '#domain/units/time.ts';
import { ApiError, unfit } from '../errors.ts';
import type { ShedModel } from '../shed/shed-model.ts';
import { findIngredient, ingredientShape } from '../shed/trace-view.ts';
import type { Handlers } from './mount.ts';
import { happenedAt } from './times.ts';

/** Ingredient lots: received, told anew, counted. */
export const storesRoutes = (model: ShedModel): Handlers<'ingredients' | 'ingredient' | 'receiveIngredient' | 'tellIngredient' | 'countIngredient'> => {
  const shown = (id: string) => ingredientShape(findIngredient(model, id), usesIn(model.shed()), model.clock.now());
  const timeOf = (path: string, given: string | undefined): EpochMs => (given === undefined ? model.clock.now() : happenedAt(path, given, model.clock.now()));
  /** What the same sender wrote under this key before; null: nothing. */
  const before = (key: string | null): string | null => {
    const sequence = key === null ? null : sequenceOfKey(model.shed().writtenKeys, key);
    if (sequence === null) return null;
    const found = [...model.shed().ingredients.values()].find(({ entries, counts }) => entries.includes(sequence) || counts.some((count) => count.sequence === sequence));
    if (found === undefined) throw new ApiError('key-used', `The key ${key ?? ''} marks entry ${sequence}, which is another act. Nothing was written.`);
    return found.id;
  };
  return {
    ingredients: () => {
      const uses = usesIn(model.shed());
      const all = [...model.shed().ingredients.values()].toSorted((one, other) => other.receivedAt - one.receivedAt || other.sequence - one.sequence);
      return { ingredients: all.map((each) => ingredientShape(each, uses, model.clock.now())) };
    },
    ingredient: ({ params }) => shown(params.ingredient ?? ''),
    receiveIngredient: ({ body, key, user }) => {
      const written = before(key);
      if (written !== null) return shown(written);
      const receivedAt = timeOf('receivedAt', body.receivedAt);
      if (body.id !== undefined && model.shed().ingredients.has(body.id)) throw new ApiError('already-exists', `There is an ingredient lot ${body.id} already: one lot, one name. Nothing was written.`);
      const id = body.id ?? freeId(model, body, receivedAt);
      model.write([{ who: byUser(user.name), kind: 'ingredient-received', body: { ...given(body), id, receivedAt: toRfc3339(receivedAt), ...keyed(key) } }]);
      return shown(id);
    },
    tellIngredient: ({ params, body, key, user }) => {
      const { id } = findIngredient(model, params.ingredient ?? '');
      if (before(key) === null) model.write([{ who: byUser(user.name), kind: 'ingredient-received', body: { ...given(body), id, receivedAt: toRfc3339(timeOf('receivedAt', body.receivedAt)), ...keyed(key) } }]);
      return shown(id);
    },
    countIngredient: ({ params, body, key, user }) => {
      const known = findIngredient(model, params.ingredient ?? '');
      if (before(key) !== null) return shown(known.id);
      const at = timeOf('at', body.at);
      if (at < known.receivedAt) throw unfit('at', 'lies before it came in');
      if (body.left > known.quantity) throw unfit('left', `is more than came in (${known.quantity} ${known.unit})`);
      model.write([{ who: byUser(user.name), kind: 'ingredient-counted', body: { ...present(body), id: known.id, left: body.left, at: toRfc3339(at), ...keyed(key) } }]);
      return shown(known.id);
    },
  };
};

const keyed = (key: string | null): { readonly key?: string } => (key === null ? {} : { key });

const given = ({ item, name, supplier, quantity, unit, ...rest }: Omit<NewIngredient, 'id'>) => {
  const { theirLot, bestBefore, note } = rest;
  return { item, name, supplier, quantity, unit, ...(theirLot !== undefined && { theirLot }), ...(bestBefore !== undefined && { bestBefore }), ...(note !== undefined && { note }) };
};

const present = ({ spilled, note }: { readonly spilled?: number | undefined; readonly note?: string | undefined }) => ({ ...(spilled !== undefined && { spilled }), ...(note !== undefined && { note }) });

/** `salt-2026-10-03`, and with a number after it where that day brought two. */
const freeId = (model: ShedModel, { item }: NewIngredient, receivedAt: EpochMs): string => {
  const day = localDate(receivedAt, model.zone).toString();
  const { ingredients } = model.shed();
  for (let number = 1; ; number += 1) {
    const id = number === 1 ? `${item}-${day}` : `${item}-${day}-${number}`;
    if (!ingredients.has(id)) return id;
  }
};
