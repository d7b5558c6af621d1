import { useState } from 'preact/hooks';
import { jarNotes, type JarNote } from '#contract';
import type { AboutDrum, ActFormProps } from './form-frame.ts';
import { Options } from './options.tsx';
import { Stepper } from './stepper.tsx';
import { useWhen, WhenField } from './when-field.tsx';

const pieces = { unit: 'jars', metric: 1 };
const words: Readonly<Record<JarNote, string>> = { counted: 'counted here', tested: 'opened for a test', broken: 'broken', gift: 'given away', 'own use': 'own use', spoiled: 'spoiled', returned: 'came back' };

/** What became of jars without a buyer, or how many stand here: so that every jar of a lot is known of. */
export const JarsNotedForm = ({ zone, before, about, saveWords, onSave, busy }: ActFormProps<'jars-noted'> & { readonly about: AboutDrum }) => {
  const left = about.batch?.jars?.left ?? 0;
  const [what, setWhat] = useState<JarNote>(before?.what ?? 'counted');
  const [typed, setTyped] = useState<number | null>(before?.jars ?? null);
  const jars = typed ?? (what === 'counted' ? left : 1);
  const { when, setWhen, time } = useWhen(zone, before?.at);
  const at = time();
  return (
    <form
      class="act-form"
      onSubmit={(event) => {
        event.preventDefault();
        const moment = time();
        if (moment !== null) onSave({ kind: 'jars-noted', at: moment, what, jars: Math.round(jars) });
      }}
    >
      <Options legend="What about the jars" name="what" options={jarNotes} words={words} chosen={what} onChoose={setWhat} />
      <Stepper label={words[what]} value={jars} scale={pieces} step={1} decimals={0} least={what === 'counted' ? 0 : 1} onChange={setTyped} />
      {what === 'counted' && <p class="dim">By what was written {String(left)} should be here, those that came back among them. Count them; a difference is worth knowing.</p>}
      <WhenField when={when} setWhen={setWhen} />
      <button type="submit" class="main-act large" disabled={busy || at === null}>
        {saveWords}
      </button>
    </form>
  );
};
