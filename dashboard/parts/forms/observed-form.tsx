import { useState } from 'preact/hooks';
import { graveAdvice, signs } from '../../state/signs.ts';
import type { ActFormProps } from './form-frame.ts';
import { useWhen, WhenField } from './when-field.tsx';

/** What was seen or smelled: one touch writes it; words may be added first. */
export const ObservedForm = ({ zone, before, onSave, busy }: ActFormProps<'observed'>) => {
  const { when, setWhen, time } = useWhen(zone, before?.at);
  const [note, setNote] = useState(before?.note ?? '');
  const at = time();
  return (
    <div class="act-form">
      <label class="field">
        In your words, if you like
        <input type="text" maxLength={500} value={note} onInput={(event) => setNote(event.currentTarget.value)} />
      </label>
      <WhenField when={when} setWhen={setWhen} />
      <div class="sign-pad" role="group" aria-label="What is seen or smelled">
        {signs.map(({ words, grave }) => (
          <button
            key={words}
            type="button"
            class={grave ? 'grave' : undefined}
            disabled={busy || at === null}
            aria-pressed={before?.sign === words}
            onClick={() => {
              const moment = time();
              if (moment !== null) onSave({ kind: 'observed', at: moment, sign: words, ...(note.trim() !== '' && { note: note.trim() }) });
            }}
          >
            {words}
          </button>
        ))}
      </div>
      <p class="caution">Marked signs: {graveAdvice}</p>
    </div>
  );
};
