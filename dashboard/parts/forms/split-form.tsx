import { useState } from 'preact/hooks';
import { massScale, volumeScale } from '../../format/units.ts';
import { useScreen } from '../screen.ts';
import { ChooseDrum, useEmptyDrums } from './empty-drums.tsx';
import type { AboutDrum, ActFormProps } from './form-frame.ts';
import { Stepper } from './stepper.tsx';
import { useWhen, WhenField } from './when-field.tsx';

/** A part becomes a lot of its own. Brine follows in proportion until somebody says otherwise. */
export const SplitForm = ({ zone, before, about, saveWords, onSave, busy }: ActFormProps<'split'> & { readonly about: AboutDrum }) => {
  const { settings } = useScreen();
  const units = settings.units.value;
  const drums = useEmptyDrums(before?.drum);
  // What a correction takes the place of is there to be divided anew.
  const fruit = (about.batch?.fruitKg ?? 20) + (before?.fruitKg ?? 0);
  const brine = (about.batch?.trace.brineNowL ?? 18) + (before?.brineL ?? 0);
  const [drum, setDrum] = useState<string | null>(before === undefined ? (drums[0]?.id ?? null) : before.drum);
  const [fruitKg, setFruitKg] = useState(before?.fruitKg ?? Math.round(fruit / 2));
  const [typedL, setTypedL] = useState<number | null>(before?.brineL ?? null);
  const { when, setWhen, time } = useWhen(zone, before?.at);
  const at = time();
  const brineL = typedL ?? (drum === null ? 0 : (brine * fruitKg) / fruit);
  return (
    <form
      class="act-form"
      onSubmit={(event) => {
        event.preventDefault();
        const moment = time();
        if (moment !== null) onSave({ kind: 'split', at: moment, drum, fruitKg: Number(fruitKg.toFixed(2)), brineL: Number(brineL.toFixed(2)) });
      }}
    >
      <ChooseDrum legend="The part goes" drums={drums} chosen={drum} onChoose={setDrum} none="out of the drum, for jars" />
      <Stepper label="fruit that goes" value={fruitKg * 1_000} scale={massScale(units)} step={1} decimals={1} least={0.1} onChange={(grams) => setFruitKg(grams / 1_000)} />
      <Stepper label="brine that goes" value={brineL} scale={volumeScale(units)} step={1} decimals={1} onChange={setTypedL} />
      <p class="worked-out">
        <b>{String(Math.round((fruit - fruitKg) * 10) / 10)} kg</b> and <b>{String(Math.round((brine - brineL) * 10) / 10)} L</b> stay. Both keep the strength of the brine, and the story up to here.
      </p>
      <WhenField when={when} setWhen={setWhen} />
      <button type="submit" class="main-act large" disabled={busy || at === null || fruitKg >= fruit}>
        {saveWords}
      </button>
    </form>
  );
};
