import { useState } from 'preact/hooks';
import { whenChoices, whenField, whenTime, type WhenChoice } from '../../state/when.ts';
import { useScreen } from '../screen.ts';

/** Holds when an act happened; asked again at the moment of saving, so that `just now` is just then. */
export interface When {
  readonly choice: WhenChoice;
  readonly field: string;
}

export const useWhen = (zone: string, at?: string) => {
  const { clock } = useScreen();
  const [when, setWhen] = useState<When>(at === undefined ? { choice: 'just now', field: whenField(clock.now.peek(), zone) } : { choice: 'other', field: whenField(Date.parse(at), zone) });
  const time = (): string | null => {
    // An act corrected without touching its time keeps it to the millisecond.
    if (at !== undefined && when.choice === 'other' && when.field === whenField(Date.parse(at), zone)) return at;
    const t = whenTime(when.choice, when.field, clock.now.peek(), zone);
    return t === null ? null : new Date(t).toISOString();
  };
  return { when, setWhen, time };
};

export const WhenField = ({ when, setWhen }: { readonly when: When; readonly setWhen: (when: When) => void }) => (
  <fieldset class="choice when">
    <legend>When</legend>
    {whenChoices.map((choice) => (
      <label key={choice}>
        <input type="radio" name="when" checked={choice === when.choice} onChange={() => setWhen({ ...when, choice })} />
        <span>{choice}</span>
      </label>
    ))}
    {when.choice === 'other' && (
      <label class="field">
        <span class="hidden-words">Time of the act</span>
        <input type="datetime-local" value={when.field} onInput={(event) => setWhen({ ...when, field: event.currentTarget.value })} />
      </label>
    )}
  </fieldset>
);
