import { useState } from 'preact/hooks';
import type { ActFormProps } from './form-frame.ts';
import { useWhen, WhenField } from './when-field.tsx';

const reasons = ['smells wrong', 'pH in doubt', 'soft or gassy fruit', 'limit was passed', 'jar leaked'];

/** The lot stays where it is: why, in one touch or in words. */
export const HoldForm = ({ zone, before, saveWords, onSave, busy }: ActFormProps<'hold'>) => {
  const [reason, setReason] = useState(before?.reason ?? '');
  const { when, setWhen, time } = useWhen(zone, before?.at);
  const at = time();
  return (
    <form
      class="act-form"
      onSubmit={(event) => {
        event.preventDefault();
        const moment = time();
        if (moment !== null && reason.trim() !== '') onSave({ kind: 'hold', at: moment, reason: reason.trim() });
      }}
    >
      <div class="sign-pad" role="group" aria-label="Why">
        {reasons.map((words) => (
          <button key={words} type="button" aria-pressed={reason === words} onClick={() => setReason(words)}>
            {words}
          </button>
        ))}
      </div>
      <label class="field">
        Why, in your words
        <input type="text" required maxLength={500} value={reason} onInput={(event) => setReason(event.currentTarget.value)} />
      </label>
      <WhenField when={when} setWhen={setWhen} />
      <button type="submit" class="main-act large" disabled={busy || at === null || reason.trim() === ''}>
        {saveWords}
      </button>
      <p class="dim">While it is on hold nobody tastes and no jar leaves. It stays in the record, with its release.</p>
    </form>
  );
};
