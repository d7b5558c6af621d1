import { signal } from '@preact/signals';
import { useEffect, useState } from 'preact/hooks';
import type { Ingredient, IngredientItem } from '#contract';
import { lotsAtFirst, lotsOffered } from '../../state/trace/lots-offered.ts';
import { useScreen } from '../screen.ts';

/** As last fetched, so that a form opened without signal still knows the open bag. */
const known = signal<readonly Ingredient[]>([]);

const itemWords: Readonly<Partial<Record<IngredientItem, string>>> = { salt: 'Salt from', vinegar: 'Vinegar from', acid: 'Acid from', jars: 'Jars from', lids: 'Lids from', herbs: 'Herbs from', oil: 'Oil from' };

/** Which lots an act uses: the one used last, unless somebody says otherwise. `told`: what goes into the act. */
export const useLots = (items: readonly IngredientItem[], before: { readonly lots?: readonly string[] | undefined } | undefined) => {
  const { call } = useScreen();
  const [chosen, setChosen] = useState<Readonly<Partial<Record<IngredientItem, string>>>>({});
  useEffect(() => {
    void call('ingredients').then((answer) => {
      if (answer.ok) known.value = answer.value.ingredients;
    });
  }, [call]);
  const all = known.value;
  const first = lotsAtFirst(all, items, before === undefined ? undefined : (before.lots ?? []));
  const lots = items.flatMap((item) => {
    const id = chosen[item] ?? first[item] ?? '';
    return id === '' ? [] : [id];
  });
  const offered = items.map((item) => ({ item, of: lotsOffered(all, item) })).filter(({ of }) => of.length > 0);
  const field =
    offered.length === 0 ? null : (
      <div class="lots-used">
        {offered.map(({ item, of }) => (
          <label key={item} class="field">
            {itemWords[item] ?? item}
            <select value={chosen[item] ?? first[item] ?? ''} onChange={(event) => setChosen({ ...chosen, [item]: event.currentTarget.value })}>
              {of.map(({ id, name, theirLot }) => (
                <option key={id} value={id}>
                  {`${name}${theirLot === null ? `, ${id}` : `, their lot ${theirLot}`}`}
                </option>
              ))}
              <option value="">not told</option>
            </select>
          </label>
        ))}
      </div>
    );
  return { field, told: lots.length === 0 ? {} : { lots: [...lots] } };
};
