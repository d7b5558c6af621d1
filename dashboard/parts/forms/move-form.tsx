import { useState } from 'preact/hooks';
import { ChooseDrum, useEmptyDrums } from './empty-drums.tsx';
import type { ActFormProps } from './form-frame.ts';
import { useWhen, WhenField } from './when-field.tsx';

/** All of a batch into an empty drum: its story and its temperatures go with it. */
export const MoveForm = ({ zone, before, saveWords, onSave, busy }: ActFormProps<'moved'>) => {
  const drums = useEmptyDrums(before?.drum);
  const [drum, setDrum] = useState(before?.drum ?? drums[0]?.id ?? null);
  const { when, setWhen, time } = useWhen(zone, before?.at);
  const at = time();
  return (
    <form
      class="act-form"
      onSubmit={(event) => {
        event.preventDefault();
        const moment = time();
        if (moment !== null && drum !== null) onSave({ kind: 'moved', at: moment, drum });
      }}
    >
      <ChooseDrum legend="Into" drums={drums} chosen={drum} onChoose={setDrum} />
      <p class="dim">Fruit and brine go together. From this time on the readings of the new drum belong to the lot; move the probe too, or say which probe is in that drum.</p>
      <WhenField when={when} setWhen={setWhen} />
      <button type="submit" class="main-act large" data-first disabled={busy || at === null || drum === null}>
        {saveWords}
      </button>
    </form>
  );
};
