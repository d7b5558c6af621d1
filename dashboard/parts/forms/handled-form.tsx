import { useState } from 'preact/hooks';
import { handlings } from '#contract';
import { handlingWords } from '../../state/story-words.ts';
import type { ActFormProps } from './form-frame.ts';
import { Stepper } from './stepper.tsx';
import { useWhen, WhenField } from './when-field.tsx';

const pieces = { unit: 'bottles', metric: 1 };

/** What hands did: one touch writes it. Ice is counted before, if somebody counts. */
export const HandledForm = ({ zone, before, onSave, busy }: ActFormProps<'handled'>) => {
  const [bottles, setBottles] = useState(before?.bottles ?? 2);
  const { when, setWhen, time } = useWhen(zone, before?.at);
  const at = time();
  return (
    <div class="act-form">
      <WhenField when={when} setWhen={setWhen} />
      <div class="sign-pad" role="group" aria-label="What was done">
        {handlings.map((what) => (
          <button
            key={what} type="button" disabled={busy || at === null} aria-pressed={before?.what === what}
            onClick={() => {
              const moment = time();
              if (moment !== null) onSave({ kind: 'handled', at: moment, what, ...(what === 'cooled' && { bottles: Math.round(bottles) }) });
            }}
          >
            {what === 'cooled' ? `cooled: ${String(Math.round(bottles))} ice bottles` : handlingWords[what]}
          </button>
        ))}
      </div>
      <Stepper label="ice bottles, if cooled" value={bottles} scale={pieces} step={1} decimals={0} least={1} onChange={setBottles} />
      <p class="caution">Let gas out slowly, with the face away and the door open: it is heavy and can take the breath in a low room. Ice stays in its closed bottles: meltwater thins the brine.</p>
    </div>
  );
};
