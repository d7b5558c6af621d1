import { useState } from 'preact/hooks';
import { typedNumber } from '../../format/units.ts';
import { jarMarks, lastMeter } from '../../state/jar-words.ts';
import { useKeys } from '../use-keys.ts';
import type { AboutDrum, ActFormProps } from './form-frame.ts';
import { KeyPad } from './key-pad.tsx';
import { useWhen, WhenField } from './when-field.tsx';

/** pH of one packed jar: which jar, the figure, done. */
export const JarPhForm = ({ zone, before, about, saveWords, onSave, busy }: ActFormProps<'jar-ph'> & { readonly about: AboutDrum }) => {
  const marks = jarMarks(about.batch);
  const [jar, setJar] = useState(before?.jar ?? marks[0] ?? '1');
  const [instrument, setInstrument] = useState(before?.instrument ?? lastMeter(about.batch));
  const [text, setText] = useState(before === undefined ? '' : String(before.value));
  const { when, setWhen, time } = useWhen(zone, before?.at);
  const value = typedNumber(text);
  const fits = value !== null && value >= 0 && value <= 14 && instrument.trim() !== '';
  const at = time();
  const press = (key: string): void => setText(key === '⌫' ? text.slice(0, -1) : text + key);
  const save = (): void => {
    const moment = time();
    if (!fits || moment === null || busy) return;
    onSave({ kind: 'jar-ph', at: moment, value: Number(value.toFixed(2)), instrument: instrument.trim(), ...(jar.trim() !== '' && { jar: jar.trim() }) });
  };
  useKeys((key) => {
    if (/^[\d.,]$/.test(key)) press(key);
    else if (key === 'Backspace') press('⌫');
    else if (key === 'Enter' && fits) save();
    else return false;
    return true;
  });
  return (
    <form
      class="act-form"
      onSubmit={(event) => {
        event.preventDefault();
        save();
      }}
    >
      <fieldset class="choice">
        <legend>Jar</legend>
        {marks.map((mark) => (
          <label key={mark}>
            <input type="radio" name="jar" checked={mark === jar} onChange={() => setJar(mark)} />
            <span>{mark}</span>
          </label>
        ))}
      </fieldset>
      <label class="typed-value">
        <span class="hidden-words">pH of the jar</span>
        <input type="text" inputMode="none" autocomplete="off" size={6} value={text} onInput={(event) => setText(event.currentTarget.value)} />
        <span>pH</span>
      </label>
      <KeyPad onPress={press} />
      {text !== '' && value !== null && (value < 0 || value > 14) && <p class="caution">pH lies between 0 and 14.</p>}
      <div class="pair-fields">
        <label class="field">
          Or another jar
          <input type="text" maxLength={20} value={jar} onInput={(event) => setJar(event.currentTarget.value)} />
        </label>
        <label class="field">
          Meter
          <input type="text" required maxLength={60} value={instrument} onInput={(event) => setInstrument(event.currentTarget.value)} />
        </label>
      </div>
      <WhenField when={when} setWhen={setWhen} />
      <button type="submit" class="main-act large" disabled={busy || !fits || at === null}>
        {saveWords}
      </button>
      <p class="dim">Flesh and brine of one jar, blended; throw the sample away, nobody tastes it. Counts only with a meter checked that day in two buffers and a second, freshly opened acid one. A strip never counts.</p>
    </form>
  );
};
