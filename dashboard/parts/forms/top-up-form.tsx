import { useState } from 'preact/hooks';
import { inWords, showQuantity, volumeScale } from '../../format/units.ts';
import { lastTopUpL } from '../../state/from-story.ts';
import { saltNow } from '../../state/settles.ts';
import { percent, strengthOf } from '../../state/strength.ts';
import { useScreen } from '../screen.ts';
import type { AboutDrum, ActFormProps } from './form-frame.ts';
import { useLots } from './lots-used.tsx';
import { Stepper } from './stepper.tsx';
import { useWhen, WhenField } from './when-field.tsx';

/** What was lost is filled up: with the same brine, or with water, which thins what is there. */
export const TopUpForm = ({ zone, before, about, saveWords, onSave, busy }: ActFormProps<'brine-topped-up'> & { readonly about: AboutDrum }) => {
  const { settings, clock } = useScreen();
  const { batch, sameBrineGPerL, suggested, temperatureC } = about;
  const units = settings.units.value;
  const [brineL, setBrineL] = useState(before?.brineL ?? lastTopUpL(batch));
  const used = useLots(['salt'], before);
  const { when, setWhen, time } = useWhen(zone, before?.at);
  const at = time();
  const same = before !== undefined && before.saltGPerL > 0 ? before.saltGPerL : sameBrineGPerL;
  const inDrum = batch === null ? { brineL: suggested.brineL, saltGPerL: sameBrineGPerL ?? 0 } : saltNow(batch, clock.now.peek(), temperatureC);
  const [now, thinned] = [inDrum.saltGPerL, (inDrum.saltGPerL * inDrum.brineL) / (inDrum.brineL + brineL)].map((gPerL) => strengthOf(gPerL, 0, null, temperatureC)?.pouredPercent ?? null);
  const save = (saltGPerL: number): void => {
    const moment = time();
    if (moment !== null) onSave({ kind: 'brine-topped-up', at: moment, brineL, saltGPerL, ...(saltGPerL > 0 && used.told) });
  };
  const cannot = busy || at === null || brineL <= 0;
  return (
    <div class="act-form">
      <Stepper label="filled up" value={brineL} scale={volumeScale(units)} step={0.5} decimals={1} least={0.1} onChange={setBrineL} />
      {used.field}
      <WhenField when={when} setWhen={setWhen} />
      {same !== null && same > 0 && (
        <button type="button" class="main-act large" data-first disabled={cannot} onClick={() => save(same)}>
          {before === undefined ? 'Same brine' : `${saveWords}: same brine`}
          <span class="under">{inWords(showQuantity(same, 'g/L', units))}, as last poured</span>
        </button>
      )}
      <button type="button" class="quiet large" disabled={cannot} onClick={() => save(0)}>
        Plain water
      </button>
      <p class="caution">
        Plain water thins the brine
        {now != null && thinned != null && inDrum.saltGPerL > 0 ? `: from about ${percent(now)} to about ${percent(thinned)}` : ''}. Fill up with brine of the same strength, and measure the salt again in a day.
      </p>
    </div>
  );
};
