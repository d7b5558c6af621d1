import { useState } from 'preact/hooks';
import { typedNumber } from '../../format/units.ts';
import { useScreen } from '../screen.ts';
import { slugFrom } from '../../state/first-steps.ts';
import { lastInstrument, useInstruments } from '../use-instruments.ts';
import { useKeys } from '../use-keys.ts';
import type { ActFormProps } from './form-frame.ts';
import { KeyPad } from './key-pad.tsx';
import { useWhen, WhenField } from './when-field.tsx';

type Quantity = 'ph' | 'salinity' | 'temperature';
const quantities: readonly Quantity[] = ['ph', 'salinity', 'temperature'];
const names = { ph: 'pH', salinity: 'Salt', temperature: 'Temperature' } as const;
const bounds = { ph: [0, 14], salinity: [0, 360], temperature: [-20, 60] } as const satisfies Record<Quantity, readonly [number, number]>;

/** A value read by hand: large keys, or the keyboard. */
export const MeasuredForm = ({ zone, before, saveWords, onSave, busy, first = 'ph' }: ActFormProps<'measured'> & { readonly first?: Quantity | undefined }) => {
  const { settings } = useScreen();
  const fahrenheit = settings.units.value.temperature === 'F';
  const [quantity, setQuantity] = useState<Quantity>(before?.quantity ?? first);
  const [text, setText] = useState(before === undefined || (before.quantity === 'temperature' && fahrenheit) ? '' : String(before.value));
  const [instrument, setInstrument] = useState(before?.instrument ?? lastInstrument.get(quantity) ?? '');
  const known = useInstruments(quantity);
  const { when, setWhen, time } = useWhen(zone, before?.at);
  const typed = typedNumber(text);
  const value = typed !== null && quantity === 'temperature' && fahrenheit ? ((typed - 32) * 5) / 9 : typed;
  const [least, most] = bounds[quantity];
  const fits = value !== null && value >= least && value <= most;
  const at = time();
  const press = (key: string): void => setText(key === '⌫' ? text.slice(0, -1) : text + key);
  useKeys((key) => {
    if (/^[\d.,]$/.test(key)) press(key);
    else if (key === 'Backspace') press('⌫');
    else if (key === 'Enter' && fits) save();
    else return false;
    return true;
  });
  const choose = (name: Quantity): void => {
    setQuantity(name);
    setInstrument(lastInstrument.get(name) ?? '');
  };
  const save = (): void => {
    const moment = time();
    if (!fits || moment === null || busy) return;
    const withIt = slugFrom(instrument);
    lastInstrument.set(quantity, withIt);
    onSave({ kind: 'measured', at: moment, quantity, value: Number(value.toFixed(2)), ...(withIt !== '' && { instrument: withIt }) });
  };
  const unit = quantity === 'ph' ? 'pH' : quantity === 'salinity' ? 'g in a litre' : fahrenheit ? '°F' : '°C';
  return (
    <form
      class="act-form"
      onSubmit={(event) => {
        event.preventDefault();
        save();
      }}
    >
      <fieldset class="choice three">
        <legend>What</legend>
        {quantities.map((name) => (
          <label key={name}>
            <input type="radio" name="quantity" checked={name === quantity} onChange={() => choose(name)} />
            <span>{names[name]}</span>
          </label>
        ))}
      </fieldset>
      <label class="typed-value">
        <span class="hidden-words">{names[quantity]}</span>
        <input type="text" inputMode="none" autocomplete="off" size={6} value={text} onInput={(event) => setText(event.currentTarget.value)} />
        <span>{unit}</span>
      </label>
      <KeyPad onPress={press} />
      {text !== '' && !fits && <p class="caution">{value === null ? 'This is not a number.' : `${names[quantity]} lies between ${String(least)} and ${String(most)}${quantity === 'temperature' ? ' °C' : ''}.`}</p>}
      <details>
        <summary>{instrument === '' ? 'With which instrument' : `With ${instrument}`}</summary>
        <label class="field">
          <span class="hidden-words">Name of the instrument</span>
          <input type="text" list="instruments" autocomplete="off" maxLength={40} value={instrument} onInput={(event) => setInstrument(event.currentTarget.value)} />
          <datalist id="instruments">
            {known.map((name) => (
              <option key={name}>{name}</option>
            ))}
          </datalist>
        </label>
      </details>
      <WhenField when={when} setWhen={setWhen} />
      <button type="submit" class="main-act large" disabled={busy || !fits || at === null}>
        {saveWords}
      </button>
      {quantity === 'ph' && <p class="dim">Mid-depth, with a meter checked today in fresh buffer. A strip is not enough to decide on safety.</p>}
    </form>
  );
};
