import { useState } from 'preact/hooks';
import { signCaution, type Sign } from '#contract';
import { allWell, commonSigns, holdsLot, signName, signPlaces } from '../../state/signs.ts';
import { SignPicture } from '../sign-picture.tsx';
import type { ActFormProps } from './form-frame.ts';
import { useWhen, WhenField } from './when-field.tsx';

/** What was seen or smelled: one touch writes it, and what to check and do is told then. Words may be added first. */
export const ObservedForm = ({ zone, before, onSave, busy }: ActFormProps<'observed'>) => {
  const { when, setWhen, time } = useWhen(zone, before?.at);
  const [note, setNote] = useState(before?.note ?? '');
  const at = time();
  const save = (sign: string): void => {
    const moment = time();
    if (moment !== null) onSave({ kind: 'observed', at: moment, sign, ...(note.trim() !== '' && { note: note.trim() }) });
  };
  const cannot = busy || at === null;
  const key = (sign: Sign, wide = false) => (
    <button key={sign.id} type="button" class={holdsLot(sign) ? 'grave' : undefined} disabled={cannot} aria-pressed={before?.sign === sign.id} onClick={() => save(sign.id)}>
      {!wide && <SignPicture sign={sign.id} />}
      <b>{signName(sign.id)}</b>
      {wide && <span>{sign.see}</span>}
    </button>
  );
  return (
    <div class="act-form">
      <div class="sign-pad" role="group" aria-label="What is seen or smelled">
        <button type="button" class="well" data-first disabled={cannot} aria-pressed={before?.sign === allWell} onClick={() => save(allWell)}>
          <SignPicture sign={allWell} />
          <b>all well: covered, no film</b>
        </button>
        {commonSigns.map((sign) => key(sign))}
      </div>
      {signPlaces.map(({ title, signs }) => (
        <details key={title}>
          <summary>{title}: all signs</summary>
          <div class="sign-pad wide" role="group" aria-label={title}>
            {signs.map((sign) => key(sign, true))}
          </div>
        </details>
      ))}
      <WhenField when={when} setWhen={setWhen} />
      <label class="field">
        In your words, if you like
        <input type="text" maxLength={500} value={note} onInput={(event) => setNote(event.currentTarget.value)} />
      </label>
      <p class="caution">{signCaution}</p>
    </div>
  );
};
