import { useState } from 'preact/hooks';
import { jarCautions } from '#contract';
import { typedNumber } from '../../format/units.ts';
import { jarSizesMl, listed, suggestedJars } from '../../state/suggested-jars.ts';
import type { AboutDrum, ActFormProps } from './form-frame.ts';
import { Options } from './options.tsx';
import { useLots } from './lots-used.tsx';
import { Stepper } from './stepper.tsx';
import { useWhen, WhenField } from './when-field.tsx';

const pieces = { unit: 'jars', metric: 1 };
const degrees = { unit: '°C', metric: 1 };
const sizes = jarSizesMl.map(String);
const plans = ['shelf', 'acid', 'cold'] as const;
type Plan = (typeof plans)[number];
const planWords = { shelf: 'as it is', acid: 'with acid', cold: 'kept cold' } as const satisfies Record<Plan, string>;

/** Jars filled: how many and with what. Above the limit, or with the pH unknown, it is written only with acid or cold planned, and the lot is on hold. */
export const JarredForm = ({ zone, before, about, saveWords, onSave, busy }: ActFormProps<'jarred'> & { readonly about: AboutDrum }) => {
  const [jarMl, setJarMl] = useState(before?.jarMl ?? 720);
  const suggested = about.batch === null ? null : suggestedJars(about.batch, jarMl);
  const [typed, setTyped] = useState<number | null>(before?.jars ?? null);
  const jars = typed ?? suggested?.jars ?? 1;
  const [brine, setBrine] = useState(before?.brine ?? (about.sameBrineGPerL === null || about.sameBrineGPerL === 0 ? '80 g/L, fresh' : `${String(about.sameBrineGPerL)} g/L, fresh`));
  const [salt, setSalt] = useState(before?.saltG === undefined ? '' : String(before.saltG));
  const saltG = typedNumber(salt);
  const [plan, setPlan] = useState<Plan>(before?.acid !== undefined ? 'acid' : before?.coldC !== undefined ? 'cold' : 'shelf');
  const [acid, setAcid] = useState(before?.acid ?? 'wine vinegar, by the bench trial');
  const [coldC, setColdC] = useState(before?.coldC ?? 4);
  const [heat, setHeat] = useState(before?.heat ?? '');
  const [ingredients, setIngredients] = useState(before?.ingredients.join(', ') ?? 'olives, water, salt');
  const used = useLots(['salt', ...(plan === 'acid' ? (['vinegar'] as const) : []), 'jars', 'lids', 'herbs', 'oil'], before);
  const { when, setWhen, time } = useWhen(zone, before?.at);
  const at = time();
  const body = {
    jars: Math.round(jars),
    jarMl,
    brine: brine.trim(),
    ...(saltG !== null && saltG > 0 && { saltG }),
    ingredients: [...listed(ingredients)],
    ...(plan === 'acid' && acid.trim() !== '' && { acid: acid.trim() }),
    ...(plan === 'cold' && { coldC }),
    ...(heat.trim() !== '' && { heat: heat.trim() }),
    ...used.told,
  };
  return (
    <form
      class="act-form"
      onSubmit={(event) => {
        event.preventDefault();
        const moment = time();
        if (moment !== null) onSave({ kind: 'jarred', at: moment, ...body });
      }}
    >
      <Options legend="Jar, mL to the brim" name="jar-size" options={sizes} chosen={String(jarMl)} onChoose={(size) => setJarMl(Number(size))} />
      <Stepper label="filled" value={jars} scale={pieces} step={1} decimals={0} least={1} onChange={setTyped} />
      {suggested !== null && (
        <p class="dim">
          The fruit fills about {suggested.jars} jars of {jarMl} mL, with {suggested.brineL.toFixed(0)} L of fresh brine.
        </p>
      )}
      <label class="field">
        Brine in the jars
        <input type="text" required maxLength={200} value={brine} onInput={(event) => setBrine(event.currentTarget.value)} />
      </label>
      <label class="field">
        Salt weighed for that brine, g
        <input type="text" inputMode="decimal" autocomplete="off" value={salt} onInput={(event) => setSalt(event.currentTarget.value)} />
        <span class="hint">May stay empty. With it the bag of salt can be counted up.</span>
      </label>
      <label class="field">
        Everything in the jar, with commas
        <input type="text" maxLength={400} value={ingredients} onInput={(event) => setIngredients(event.currentTarget.value)} />
      </label>
      <Options legend="How it is to keep" name="plan" options={plans} words={planWords} chosen={plan} onChoose={setPlan} />
      {plan === 'shelf' && <p class="dim">Only where the brine was measured: pH 4.3 or lower with 0.12 added, by a meter or probe, after the last change. An unknown pH counts as above.</p>}
      {plan === 'acid' && (
        <label class="field">
          Which acid and how much
          <input type="text" required maxLength={200} value={acid} onInput={(event) => setAcid(event.currentTarget.value)} />
        </label>
      )}
      {plan === 'cold' && <Stepper label="kept at" value={coldC} scale={degrees} step={1} decimals={0} onChange={setColdC} />}
      <label class="field">
        Heat, if any
        <input type="text" maxLength={200} placeholder="none" value={heat} onInput={(event) => setHeat(event.currentTarget.value)} />
      </label>
      {jarCautions(body).map((caution) => (
        <p key={caution} class="caution">
          {caution}
        </p>
      ))}
      {used.field}
      <WhenField when={when} setWhen={setWhen} />
      <button type="submit" class="main-act large" disabled={busy || at === null || body.brine === '' || (salt.trim() !== '' && !(saltG !== null && saltG > 0))}>
        {saveWords}
      </button>
    </form>
  );
};
