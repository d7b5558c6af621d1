import type { ActFormProps } from './form-frame.ts';
import { useWhen, WhenField } from './when-field.tsx';

const amounts = ['a trace of film', 'film in patches', 'film all over'];

/** How much was taken off: one touch writes it. */
export const SkimmedForm = ({ zone, before, saveWords, onSave, busy }: ActFormProps<'skimmed'>) => {
  const { when, setWhen, time } = useWhen(zone, before?.at);
  const at = time();
  const save = (note?: string): void => {
    const moment = time();
    if (moment !== null) onSave({ kind: 'skimmed', at: moment, ...(note !== undefined && { note }) });
  };
  return (
    <div class="act-form">
      <WhenField when={when} setWhen={setWhen} />
      <button type="button" class="main-act large" data-first disabled={busy || at === null} onClick={() => save()}>
        {saveWords}
      </button>
      <div class="sign-pad" role="group" aria-label="How much there was">
        {amounts.map((words) => (
          <button key={words} type="button" disabled={busy || at === null} aria-pressed={before?.note === words} onClick={() => save(words)}>
            {words}
          </button>
        ))}
      </div>
      <p class="dim">Wipe the wall and the weight, bring the level up with brine of the same strength, leave less air. A film eats acid: measure pH today.</p>
    </div>
  );
};
