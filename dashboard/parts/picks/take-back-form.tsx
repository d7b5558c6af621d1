import { useState } from 'preact/hooks';

/** A pick that never was stays in the journal, with the reason. */
export const TakeBackForm = ({ busy, onSave }: { readonly busy: boolean; readonly onSave: (reason: string) => void }) => {
  const [reason, setReason] = useState('');
  return (
    <form
      class="act-form"
      onSubmit={(event) => {
        event.preventDefault();
        onSave(reason.trim());
      }}
    >
      <label class="field">
        Why there was no such pick
        <input type="text" required maxLength={300} value={reason} onInput={(event) => setReason(event.currentTarget.value)} />
      </label>
      <button type="submit" class="main-act large" disabled={busy || reason.trim() === ''}>
        Take it back
      </button>
    </form>
  );
};
