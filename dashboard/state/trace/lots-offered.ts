import type { Ingredient, IngredientItem } from '#contract';

/** Lots of one kind that an act may have used, the one used last first: that is the open bag. What was counted empty is gone. */
export const lotsOffered = (all: readonly Ingredient[], item: IngredientItem): readonly Ingredient[] =>
  all
    .filter((each) => each.item === item && !(each.balance.onHand !== null && each.balance.onHand <= 0))
    .toSorted((one, other) => mark(other).localeCompare(mark(one)) || other.receivedAt.localeCompare(one.receivedAt));

const mark = ({ lastUsedAt }: Ingredient): string => lastUsedAt ?? '';

/** What is chosen for each kind before anybody touches it: as written before, else the lot used last. */
export const lotsAtFirst = (all: readonly Ingredient[], items: readonly IngredientItem[], before: readonly string[] | undefined): Readonly<Partial<Record<IngredientItem, string>>> =>
  Object.fromEntries(
    items.flatMap((item) => {
      const written = all.find((each) => each.item === item && before?.includes(each.id) === true);
      const chosen = before === undefined ? lotsOffered(all, item)[0] : written;
      return chosen === undefined ? [] : [[item, chosen.id]];
    }),
  );
