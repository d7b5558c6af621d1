import { useState } from 'preact/hooks';
import { verdictWords } from '../../state/jar-words.ts';
import { useScreen } from '../screen.ts';
import type { AboutDrum, ActFormProps } from './form-frame.ts';
import { useWhen, WhenField } from './when-field.tsx';

/** Ends every hold so far: who answers for it, and the named reason where the packed jars do not show it. */
export const ReleaseForm = ({ zone, before, about, saveWords, onSave, busy }: ActFormProps<'release'> & { readonly about: AboutDrum }) => {
  const { session } = useScreen();
  const [by, setBy] = useState(before?.by ?? session.session.value?.user?.name ?? '');
  const [exception, setException] = useState(before?.exception ?? '');
  const { when, setWhen, time } = useWhen(zone, before?.at);
  const at = time();
  const gate = about.batch?.jars?.gate ?? null;
  const needsReason = gate?.verdict !== 'inside';
  return (
    <form
      class="act-form"
      onSubmit={(event) => {
        event.preventDefault();
        const moment = time();
        if (moment !== null) onSave({ kind: 'release', at: moment, by: by.trim(), ...(exception.trim() !== '' && { exception: exception.trim() }) });
      }}
    >
      {about.batch !== null && about.batch.holds.length > 0 && (
        <ul class="held-for">
          {about.batch.holds.map(({ entry, reason }) => (
            <li key={entry}>{reason}</li>
          ))}
        </ul>
      )}
      <p>{gate === null ? 'The fruit is in its drum: there are no packed jars to measure, so the reason is named.' : verdictWords(gate)}</p>
      {needsReason && (
        <label class="field">
          Released all the same, because
          <input type="text" required maxLength={500} value={exception} onInput={(event) => setException(event.currentTarget.value)} />
        </label>
      )}
      <label class="field">
        Who answers for it
        <input type="text" required maxLength={80} value={by} onInput={(event) => setBy(event.currentTarget.value)} />
      </label>
      {needsReason && <p class="caution">This is a person’s own answer, not a finding, and it is shown as such in the record. Local rules come first.</p>}
      <WhenField when={when} setWhen={setWhen} />
      <button type="submit" class="main-act large" disabled={busy || at === null || by.trim() === '' || (needsReason && exception.trim() === '')}>
        {saveWords}
      </button>
    </form>
  );
};
