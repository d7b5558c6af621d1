import type { ActFormProps } from './form-frame.ts';
import { useWhen, WhenField } from './when-field.tsx';

const scores = Array.from({ length: 11 }, (_, score) => score);

/** How bitter: one touch on the number writes it. */
export const TastedForm = ({ zone, before, onSave, busy }: ActFormProps<'tasted'>) => {
  const { when, setWhen, time } = useWhen(zone, before?.at);
  const at = time();
  return (
    <div class="act-form">
      <p>How bitter, of ten? Five fruit from three depths, rinsed; wait a minute for the aftertaste.</p>
      <p class="caution">Do not taste when anything smells or looks wrong, or while pH is in doubt: look and measure first.</p>
      <WhenField when={when} setWhen={setWhen} />
      <div class="score-pad" role="group" aria-label="Bitterness">
        {scores.map((score) => (
          <button
            key={score}
            type="button"
            disabled={busy || at === null}
            aria-pressed={before?.bitterness === score}
            onClick={() => {
              const moment = time();
              if (moment !== null) onSave({ kind: 'tasted', at: moment, bitterness: score });
            }}
          >
            {score}
          </button>
        ))}
      </div>
      <p class="dim">0 none · 4 pleasant · 6 strong · 10 fresh fruit</p>
    </div>
  );
};
