import { useState } from 'preact/hooks';
import { massScale, volumeScale } from '../../format/units.ts';
import { caution, percent, strengthOf } from '../../state/strength.ts';
import { useScreen } from '../screen.ts';
import type { ActFormProps } from './form-frame.ts';
import { Stepper } from './stepper.tsx';
import { useWhen, WhenField } from './when-field.tsx';

interface BrineFormProps extends ActFormProps<'brine-changed'> {
  readonly suggested: { readonly brineL: number; readonly saltG: number };
  readonly temperatureC: number | undefined;
}

/** New brine: litres and weighed salt; what that makes it is worked out beside. */
export const BrineForm = ({ zone, before, suggested, temperatureC, saveWords, onSave, busy }: BrineFormProps) => {
  const { settings } = useScreen();
  const units = settings.units.value;
  const [brineL, setBrineL] = useState(before?.brineL ?? suggested.brineL);
  const [saltG, setSaltG] = useState(before === undefined ? suggested.saltG : before.saltGPerL * before.brineL);
  const [half, setHalf] = useState(before?.fraction !== undefined && before.fraction < 1);
  const { when, setWhen, time } = useWhen(zone, before?.at);
  const saltGPerL = brineL > 0 ? saltG / brineL : 0;
  const strength = strengthOf(saltGPerL, brineL, null, temperatureC);
  const warning = caution(saltGPerL, strength);
  const at = time();
  return (
    <form
      class="act-form"
      onSubmit={(event) => {
        event.preventDefault();
        const moment = time();
        if (moment === null) return;
        onSave({ kind: 'brine-changed', at: moment, brineL, saltGPerL: Number(saltGPerL.toFixed(2)), ...(half && { fraction: before?.fraction ?? 0.5 }) });
      }}
    >
      <Stepper label="new brine" value={brineL} scale={volumeScale(units)} step={1} decimals={1} least={0.1} onChange={setBrineL} />
      <Stepper label="salt, weighed" value={saltG} scale={massScale(units)} step={0.1} decimals={2} onChange={setSaltG} />
      <p class="worked-out">
        <b>{strength === null ? 'over saturation' : percent(strength.pouredPercent)}</b> as poured, {saltGPerL.toFixed(0)} g in a litre
      </p>
      {warning !== null && <p class="caution">{warning}</p>}
      <fieldset class="choice">
        <legend>How much of the drum</legend>
        {['all of it', 'about half'].map((words, index) => (
          <label key={words}>
            <input type="radio" name="fraction" checked={half === (index === 1)} onChange={() => setHalf(index === 1)} />
            <span>{words}</span>
          </label>
        ))}
      </fieldset>
      <WhenField when={when} setWhen={setWhen} />
      <button type="submit" class="main-act large" disabled={busy || at === null || strength === null || brineL <= 0}>
        {saveWords}
      </button>
    </form>
  );
};
