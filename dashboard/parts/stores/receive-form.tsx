import { useState } from 'preact/hooks';
import { ingredientItems, ingredientUnits, type Ingredient, type IngredientItem, type IngredientUnit, type NewIngredient } from '#contract';
import { Options } from '../forms/options.tsx';
import { Stepper } from '../forms/stepper.tsx';

const usualUnit: Readonly<Record<IngredientItem, IngredientUnit>> = { salt: 'kg', vinegar: 'L', acid: 'kg', herbs: 'kg', oil: 'L', water: 'L', jars: 'pieces', lids: 'pieces', buffer: 'pieces', cleaner: 'L', other: 'kg' };
const usualAmount: Readonly<Record<IngredientUnit, number>> = { kg: 25, g: 500, L: 5, mL: 500, pieces: 100 };

/** A lot that came in, in a few taps: what was bought last is offered again. */
export const ReceiveForm = ({ known, busy, onSave }: { readonly known: readonly Ingredient[]; readonly busy: boolean; readonly onSave: (told: NewIngredient) => void }) => {
  const lastOf = (item: IngredientItem): Ingredient | undefined => known.find((each) => each.item === item);
  const [item, setItem] = useState<IngredientItem>('salt');
  const [name, setName] = useState(lastOf('salt')?.name ?? '');
  const [supplier, setSupplier] = useState(lastOf('salt')?.supplier ?? '');
  const [unit, setUnit] = useState<IngredientUnit>(lastOf('salt')?.unit ?? 'kg');
  const [quantity, setQuantity] = useState(lastOf('salt')?.quantity ?? 25);
  const [theirLot, setTheirLot] = useState('');
  const [bestBefore, setBestBefore] = useState('');
  const choose = (next: IngredientItem): void => {
    const last = lastOf(next);
    const nextUnit = last?.unit ?? usualUnit[next];
    setItem(next);
    setName(last?.name ?? '');
    setSupplier(last?.supplier ?? '');
    setUnit(nextUnit);
    setQuantity(last?.quantity ?? usualAmount[nextUnit]);
  };
  return (
    <form
      class="act-form"
      onSubmit={(event) => {
        event.preventDefault();
        onSave({ item, name: name.trim(), supplier: supplier.trim(), quantity, unit, ...(theirLot.trim() !== '' && { theirLot: theirLot.trim() }), ...(bestBefore !== '' && { bestBefore }) });
      }}
    >
      <Options legend="What came in" name="item" options={ingredientItems} chosen={item} onChoose={choose} />
      <label class="field">
        Name, as on the package
        <input type="text" required maxLength={80} value={name} onInput={(event) => setName(event.currentTarget.value)} />
      </label>
      <label class="field">
        From whom, and where
        <input type="text" required maxLength={120} value={supplier} onInput={(event) => setSupplier(event.currentTarget.value)} />
      </label>
      <Stepper label="came in" value={quantity} scale={{ unit, metric: 1 }} step={1} decimals={2} least={0.01} onChange={setQuantity} />
      <Options legend="Counted in" name="unit" options={ingredientUnits} chosen={unit} onChoose={setUnit} />
      <label class="field">
        Their lot, as printed on it
        <input type="text" maxLength={60} value={theirLot} onInput={(event) => setTheirLot(event.currentTarget.value)} />
      </label>
      <label class="field">
        Best before, if it says
        <input type="date" value={bestBefore} onInput={(event) => setBestBefore(event.currentTarget.value)} />
      </label>
      {theirLot.trim() === '' && <p class="caution">Without their lot a recall by the supplier cannot be followed. Write it where there is one.</p>}
      <button type="submit" class="main-act large" disabled={busy || name.trim() === '' || supplier.trim() === ''}>
        {busy ? 'Sending …' : 'It came in today'}
      </button>
    </form>
  );
};
