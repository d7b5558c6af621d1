import { useState } from 'preact/hooks';
import type { Task } from '#contract';
import type { Failure } from '../../client/call.ts';
import { failureWords } from './form-frame.ts';

/** A task left out is written down with its reason; the schedule goes on from its own day. */
export const SkipForm = ({ task, onSkip }: { readonly task: Task; readonly onSkip: (reason: string) => Promise<Failure | null> }) => {
  const [reason, setReason] = useState('');
  const [problem, setProblem] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);
  return (
    <form
      class="act-form"
      onSubmit={(event) => {
        event.preventDefault();
        setBusy(true);
        void onSkip(reason.trim()).then((failure) => {
          setBusy(false);
          setProblem(failure === null ? null : failureWords(failure));
        });
      }}
    >
      <p>{task.text}</p>
      <label class="field">
        Why it is left out
        <input type="text" required maxLength={300} value={reason} onInput={(event) => setReason(event.currentTarget.value)} />
      </label>
      {problem !== null && (
        <p class="problem" role="alert">
          {problem}
        </p>
      )}
      <button type="submit" class="main-act large" disabled={busy || reason.trim() === ''}>
        Leave it out
      </button>
    </form>
  );
};
