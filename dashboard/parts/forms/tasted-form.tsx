import { useState } from 'preact/hooks';
import { useKeys } from '../use-keys.ts';
import type { ActFormProps } from './form-frame.ts';
import { useWhen, WhenField } from './when-field.tsx';

const scores = Array.from({ length: 11 }, (_, score) => score);

/** How bitter: one touch on the number writes it; by keyboard the number, then Enter. */
export const TastedForm = ({ zone, before, onSave, busy }: ActFormProps<'tasted'>) => {
  const { when, setWhen, time } = useWhen(zone, before?.at);
  const [typed, setTyped] = useState<number | null>(null);
  const at = time();
  const save = (bitterness: number): void => {
    const moment = time();
    if (moment !== null && !busy) onSave({ kind: 'tasted', at: moment, bitterness });
  };
  useKeys((key) => {
    if (/^\d$/.test(key)) setTyped(typed === 1 && key === '0' ? 10 : Number(key));
    else if (key === 'Enter' && typed !== null) save(typed);
    else return false;
    return true;
  });
  return (
    <div class="act-form">
      <p>How bitter, of ten? Five fruit from three depths, rinsed; wait a minute for the aftertaste.</p>
      <div class="score-pad" role="group" aria-label="Bitterness">
        {scores.map((score) => (
          <button key={score} type="button" disabled={busy || at === null} aria-pressed={(typed ?? before?.bitterness) === score} onClick={() => save(score)}>
            {score}
          </button>
        ))}
      </div>
      <p class="dim" role="status">
        {typed === null ? '0 none · 4 pleasant · 6 strong · 10 fresh fruit' : `${String(typed)} of ten: Enter writes it`}
      </p>
      <p class="caution">Do not taste when anything smells or looks wrong, or while pH is in doubt: look and measure first.</p>
      <WhenField when={when} setWhen={setWhen} />
    </div>
  );
};
