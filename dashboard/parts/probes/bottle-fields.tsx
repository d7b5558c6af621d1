import { useEffect, useId, useMemo, useState } from 'preact/hooks';
import type { Ingredient, Instrument } from '#contract';
import { bottleLot, bottleWords, lastBottles, type BottleText } from '../../state/probes/bottles.ts';
import { useScreen } from '../screen.ts';

/** The bottles of last time, and the buffers in the stores; nothing of either while there is no connection. */
export const useBottles = (instrument: string) => {
  const { call } = useScreen();
  const [instruments, setInstruments] = useState<readonly Instrument[]>([]);
  const [stores, setStores] = useState<readonly Ingredient[]>([]);
  useEffect(() => {
    void call('instruments').then((answer) => {
      if (answer.ok) setInstruments(answer.value.instruments);
    });
    void call('ingredients').then((answer) => {
      if (answer.ok) setStores(answer.value.ingredients.filter(({ item }) => item === 'buffer'));
    });
  }, [call]);
  const last = useMemo(() => lastBottles(instruments, instrument), [instruments, instrument]);
  return { last, stores };
};

interface BottleFieldsProps {
  readonly bottle: BottleText;
  readonly stores: readonly Ingredient[];
  /** Whether the meter may have been read in it before it was adjusted. */
  readonly asFound: boolean;
  readonly onChange: (over: Partial<BottleText>) => void;
}

/** The fields of a bottle behind the line that says what is known of it: most days nothing changes. */
export const BottleFold = (props: BottleFieldsProps) => (
  <details class="bottle">
    <summary>{bottleWords(props.bottle)}</summary>
    <BottleFields {...props} />
  </details>
);

/** What stands on the bottle of a buffer, and what the meter read in it as it was found. A lot of the stores brings its date along. */
export const BottleFields = ({ bottle, stores, asFound, onChange }: BottleFieldsProps) => {
  const list = useId();
  const named = (lot: string): void => {
    const bestBefore = stores.find((each) => bottleLot(each) === lot)?.bestBefore ?? null;
    onChange({ lot, ...(bestBefore !== null && { expiresOn: bestBefore }) });
  };
  return (
    <>
      <label class="field">
        Lot of the bottle
        <input type="text" autocomplete="off" maxLength={60} list={stores.length === 0 ? undefined : list} value={bottle.lot} onInput={(event) => named(event.currentTarget.value)} />
      </label>
      {stores.length > 0 && (
        <datalist id={list}>
          {stores.map((each) => (
            <option key={each.id} value={bottleLot(each)}>
              {each.name}
            </option>
          ))}
        </datalist>
      )}
      <div class="bottle-dates">
        <label class="field">
          Good until
          <input type="date" value={bottle.expiresOn} onInput={(event) => onChange({ expiresOn: event.currentTarget.value })} />
        </label>
        <label class="field">
          Opened on
          <input type="date" value={bottle.openedOn} onInput={(event) => onChange({ openedOn: event.currentTarget.value })} />
        </label>
      </div>
      {asFound && (
        <label class="field">
          Read before it was adjusted, pH
          <input type="text" inputMode="decimal" autocomplete="off" value={bottle.found} onInput={(event) => onChange({ found: event.currentTarget.value })} />
        </label>
      )}
    </>
  );
};
