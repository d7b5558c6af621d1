import { useState } from 'preact/hooks';
import { massScale, volumeScale } from '../../format/units.ts';
import { settlesAt } from '../../state/settles.ts';
import { caution, percent, strengthOf } from '../../state/strength.ts';
import { useScreen } from '../screen.ts';
import type { AboutDrum, ActFormProps } from './form-frame.ts';
import { useLots } from './lots-used.tsx';
import { Stepper } from './stepper.tsx';
import { useWhen, WhenField } from './when-field.tsx';

/** New brine: litres and weighed salt; beside it what that makes, and where it settles once the fruit has had its share. */
export const BrineForm = ({ zone, before, about, saveWords, onSave, busy }: ActFormProps<'brine-changed'> & { readonly about: AboutDrum }) => {
  const { settings, clock } = useScreen();
  const { batch, suggested, temperatureC } = about;
  const units = settings.units.value;
  const [brineL, setBrineL] = useState(before?.brineL ?? suggested.brineL);
  const [saltG, setSaltG] = useState(before === undefined ? suggested.saltG : before.saltGPerL * before.brineL);
  const [half, setHalf] = useState(before?.fraction !== undefined && before.fraction < 1);
  const used = useLots(['salt'], before);
  const { when, setWhen, time } = useWhen(zone, before?.at);
  const saltGPerL = brineL > 0 ? saltG / brineL : 0;
  const fraction = half ? (before?.fraction ?? 0.5) : 1;
  const settles = batch === null || before !== undefined ? null : settlesAt(batch, { brineL, saltGPerL, fraction }, clock.now.peek(), temperatureC);
  const poured = strengthOf(saltGPerL, brineL, null, temperatureC);
  const warning = caution(saltGPerL, poured === null ? null : { ...poured, settledPercent: settles?.percent ?? null });
  const at = time();
  const water = saltG === 0;
  return (
    <form
      class="act-form"
      onSubmit={(event) => {
        event.preventDefault();
        const moment = time();
        if (moment === null) return;
        onSave({ kind: 'brine-changed', at: moment, brineL, saltGPerL: Number(saltGPerL.toFixed(2)), ...(half && { fraction }), ...(!water && used.told) });
      }}
    >
      <Stepper label={water ? 'new water' : 'new brine'} value={brineL} scale={volumeScale(units)} step={1} decimals={1} least={0.1} onChange={setBrineL} />
      <Stepper label="salt, weighed" value={saltG} scale={massScale(units)} step={0.1} decimals={2} onChange={setSaltG} />
      <div class="worked-out pair-fixed">
        <p>
          poured <b>{poured === null ? 'over saturation' : percent(poured.pouredPercent)}</b> <span class="dim">{saltGPerL.toFixed(0)} g in a litre</span>
        </p>
        {settles !== null && !water && (
          <p>
            settles at about <b>{percent(settles.percent)}</b> <span class="dim">{spanWords(settles.lowPercent, settles.highPercent)}in {daysWords(settles.inDays)}</span>
          </p>
        )}
      </div>
      {warning !== null && <p class="caution">{warning}</p>}
      <fieldset class="choice two">
        <legend>How much of the drum</legend>
        {['all of it', 'about half'].map((words, index) => (
          <label key={words}>
            <input type="radio" name="fraction" checked={half === (index === 1)} onChange={() => setHalf(index === 1)} />
            <span>{words}</span>
          </label>
        ))}
      </fieldset>
      {used.field}
      <WhenField when={when} setWhen={setWhen} />
      <button type="submit" class="main-act large" data-first disabled={busy || at === null || poured === null || brineL <= 0}>
        {saveWords}
      </button>
    </form>
  );
};

const spanWords = (low: number, high: number): string => (low.toFixed(1) === high.toFixed(1) ? '' : `${low.toFixed(1)} – ${high.toFixed(1)} `);

const daysWords = (days: number): string => {
  const whole = Math.max(1, Math.round(days));
  return whole === 1 ? 'a day' : `${String(whole)} days`;
};
