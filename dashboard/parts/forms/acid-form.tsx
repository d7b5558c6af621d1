import { useState } from 'preact/hooks';
import { acids, type Acid } from '#contract';
import { lastAcid } from '../../state/from-story.ts';
import type { AboutDrum, ActFormProps } from './form-frame.ts';
import { Options } from './options.tsx';
import { useLots } from './lots-used.tsx';
import { Stepper } from './stepper.tsx';
import { useWhen, WhenField } from './when-field.tsx';

const words = { acetic: 'vinegar', lactic: 'lactic', citric: 'citric' } as const satisfies Record<Acid, string>;
const millilitres = { unit: 'mL', metric: 1 };
const percents = { unit: '%', metric: 1 };

/** Acid into the drum: which, how much, how strong by the bottle. */
export const AcidForm = ({ zone, before, about, saveWords, onSave, busy }: ActFormProps<'acid-added'> & { readonly about: AboutDrum }) => {
  const last = before ?? lastAcid(about.batch);
  const [acid, setAcid] = useState<Acid>(acids.find((each) => each === last.acid) ?? 'acetic');
  const [ml, setMl] = useState(last.ml);
  const [strengthPercent, setStrength] = useState(last.strengthPercent);
  const used = useLots([acid === 'acetic' ? 'vinegar' : 'acid'], before);
  const { when, setWhen, time } = useWhen(zone, before?.at);
  const at = time();
  return (
    <form
      class="act-form"
      onSubmit={(event) => {
        event.preventDefault();
        const moment = time();
        if (moment !== null) onSave({ kind: 'acid-added', at: moment, acid, ml: Number(ml.toFixed(1)), strengthPercent: Number(strengthPercent.toFixed(2)), ...used.told });
      }}
    >
      <Options legend="Which acid" name="acid" options={acids} words={words} chosen={acid} onChoose={setAcid} />
      <Stepper label="poured in" value={ml} scale={millilitres} step={50} decimals={0} least={1} onChange={setMl} />
      <Stepper label="on the bottle" value={strengthPercent} scale={percents} step={1} decimals={1} least={0.1} onChange={setStrength} />
      {used.field}
      <WhenField when={when} setWhen={setWhen} />
      <button type="submit" class="main-act large" data-first disabled={busy || at === null || ml <= 0 || strengthPercent <= 0 || strengthPercent > 100}>
        {saveWords}
      </button>
      <p class="caution">Stir, and measure pH tomorrow and in three days: acid takes days to reach the stone. What was poured says nothing about the pH it makes.</p>
    </form>
  );
};
