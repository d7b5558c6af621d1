import { useState } from 'preact/hooks';
import type { AboutDrum, ActFormProps } from './form-frame.ts';
import { Stepper } from './stepper.tsx';
import { useWhen, WhenField } from './when-field.tsx';

const pieces = { unit: 'jars', metric: 1 };

/** Jars that left, and to whom: what a recall goes by. */
export const DistributedForm = ({ zone, before, about, saveWords, onSave, busy }: ActFormProps<'distributed'> & { readonly about: AboutDrum }) => {
  const stock = about.batch?.jars ?? null;
  const known = [...new Set((stock?.distributed ?? []).map(({ to }) => to))].slice(-4);
  const [jars, setJars] = useState(before?.jars ?? 1);
  const [to, setTo] = useState(before?.to ?? '');
  const { when, setWhen, time } = useWhen(zone, before?.at);
  const at = time();
  return (
    <form
      class="act-form"
      onSubmit={(event) => {
        event.preventDefault();
        const moment = time();
        if (moment !== null) onSave({ kind: 'distributed', at: moment, to: to.trim(), jars: Math.round(jars) });
      }}
    >
      <Stepper label={stock === null ? 'left' : `of ${String(stock.left)} here`} value={jars} scale={pieces} step={1} decimals={0} least={1} onChange={setJars} />
      {stock !== null && stock.left > 1 && before === undefined && (
        <button type="button" class="quiet large" aria-pressed={jars === stock.left} onClick={() => setJars(stock.left)}>
          All {stock.left}
        </button>
      )}
      {known.length > 0 && (
        <div class="sign-pad" role="group" aria-label="To whom, as before">
          {known.map((name) => (
            <button key={name} type="button" aria-pressed={to === name} onClick={() => setTo(name)}>
              {name}
            </button>
          ))}
        </div>
      )}
      <label class="field">
        To whom
        <input type="text" required maxLength={120} value={to} onInput={(event) => setTo(event.currentTarget.value)} />
      </label>
      <WhenField when={when} setWhen={setWhen} />
      <button type="submit" class="main-act large" disabled={busy || at === null || to.trim() === ''}>
        {saveWords}
      </button>
    </form>
  );
};
