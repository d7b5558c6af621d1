import { useState } from 'preact/hooks';
import { massScale } from '../../format/units.ts';
import { lastSaltG } from '../../state/from-story.ts';
import { saltNow } from '../../state/settles.ts';
import { percent, strengthOf } from '../../state/strength.ts';
import { useScreen } from '../screen.ts';
import type { AboutDrum, ActFormProps } from './form-frame.ts';
import { useLots } from './lots-used.tsx';
import { Stepper } from './stepper.tsx';
import { useWhen, WhenField } from './when-field.tsx';

/** Salt for the brine that is in the drum; what that lifts it to, before the fruit has had its share. */
export const SaltForm = ({ zone, before, about, saveWords, onSave, busy }: ActFormProps<'salt-added'> & { readonly about: AboutDrum }) => {
  const { settings, clock } = useScreen();
  const { batch, temperatureC } = about;
  const [saltG, setSaltG] = useState(before?.saltG ?? lastSaltG(batch));
  const used = useLots(['salt'], before);
  const { when, setWhen, time } = useWhen(zone, before?.at);
  const at = time();
  const now = batch === null || before !== undefined ? null : saltNow(batch, clock.now.peek(), temperatureC);
  const [low, high] = now === null ? [null, null] : [now.saltGPerL, now.saltGPerL + saltG / now.brineL].map((gPerL) => strengthOf(gPerL, 0, null, temperatureC)?.pouredPercent ?? null);
  return (
    <form
      class="act-form"
      onSubmit={(event) => {
        event.preventDefault();
        const moment = time();
        if (moment !== null) onSave({ kind: 'salt-added', at: moment, saltG: Number(saltG.toFixed(1)), ...used.told });
      }}
    >
      <Stepper label="salt, weighed" value={saltG} scale={massScale(settings.units.value)} step={0.1} decimals={2} least={0.01} onChange={setSaltG} />
      {low != null && high != null && (
        <p class="worked-out">
          brine from about <b>{percent(low)}</b> to about <b>{percent(high)}</b>, less when the fruit has had its share
        </p>
      )}
      <p class="dim">Dissolve it in a bucket of brine from the drum, pour that back and stir from the bottom: dry salt lies there and does nothing.</p>
      {used.field}
      <WhenField when={when} setWhen={setWhen} />
      <button type="submit" class="main-act large" data-first disabled={busy || at === null || saltG <= 0}>
        {saveWords}
      </button>
    </form>
  );
};
