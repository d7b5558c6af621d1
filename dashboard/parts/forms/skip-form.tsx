import { useState } from 'preact/hooks';
import type { Task } from '#contract';

interface SkipFormProps {
  readonly task: Task;
  readonly busy: boolean;
  readonly problem: string | null;
  readonly onSkip: (reason: string) => void;
}

const reasons = ['no time today', 'not needed yet', 'no salt or water at hand', 'too hot to open'];

/** A task left out is written down with its reason, one touch for the common ones; the schedule goes on from its own day. */
export const SkipForm = ({ task, busy, problem, onSkip }: SkipFormProps) => {
  const [reason, setReason] = useState('');
  return (
    <form
      class="act-form"
      onSubmit={(event) => {
        event.preventDefault();
        onSkip(reason.trim());
      }}
    >
      <p>{task.text}</p>
      {task.late !== undefined && <p class="caution">{task.late.hygiene?.text ?? task.late.text}</p>}
      <div class="sign-pad" role="group" aria-label="Why it is left out">
        {reasons.map((words) => (
          <button key={words} type="button" disabled={busy} onClick={() => onSkip(words)}>
            {words}
          </button>
        ))}
      </div>
      <label class="field">
        Or another reason
        <input type="text" required maxLength={300} value={reason} onInput={(event) => setReason(event.currentTarget.value)} />
      </label>
      {problem !== null && (
        <p class="problem" role="alert">
          {problem}
        </p>
      )}
      <button type="submit" class="quiet large" disabled={busy || reason.trim() === ''}>
        Leave it out
      </button>
    </form>
  );
};
