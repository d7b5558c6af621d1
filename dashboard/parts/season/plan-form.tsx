import { useState } from 'preact/hooks';
import { massScale, typedNumber, type UnitChoice } from '../../format/units.ts';
import type { PlanInput } from '#contract';
import { Stepper } from '../forms/stepper.tsx';

const count = (unit: string) => ({ unit, metric: 1 });
const jarSizes = [212, 250, 314, 370, 500, 580, 720, 1_000, 1_700];

type SpreadName = 'onKg' | 'offKg' | 'cureDays';
type NumberName = 'picks' | 'daysBetweenPicks' | 'drumL' | 'brinesPerDrum' | 'brinePercentWw' | 'waterChanges' | 'jarsPerStall';
const numbers: readonly (readonly [NumberName, string])[] = [
  ['picks', 'Picks'], ['daysBetweenPicks', 'Days between picks'], ['drumL', 'Litres a drum'], ['brinesPerDrum', 'Brines a drum, the first counted'], ['waterChanges', 'of them plain water'],
  ['brinePercentWw', 'Salt in the brine, % by weight'], ['jarsPerStall', 'Jars a stall'],
];

/** What the next season is worked out from: four figures at hand, the others one touch away. */
export const PlanForm = ({ input, own, units, onChange }: { readonly input: PlanInput; readonly own: readonly string[]; readonly units: UnitChoice; readonly onChange: (input: PlanInput) => void }) => {
  const set = (change: Partial<PlanInput>): void => onChange({ ...input, ...change });
  const sizes = [...new Set([...jarSizes, input.jarMl])].sort((one, other) => one - other);
  const kilogram = massScale(units);
  return (
    <form class="plan-form" onSubmit={(event) => event.preventDefault()}>
      <div class="plan-keys">
        <Stepper label="trees in their on year" value={input.treesOn} scale={count('')} step={1} decimals={0} onChange={(treesOn) => set({ treesOn })} />
        <Stepper label="trees in their off year" value={input.treesOff} scale={count('')} step={1} decimals={0} onChange={(treesOff) => set({ treesOff })} />
        <Stepper label="drums you have" value={input.drums} scale={count('')} step={1} decimals={0} onChange={(drums) => set({ drums })} />
        <label class="field">
          <span>Size of the jars</span>
          <select value={String(input.jarMl)} onChange={(event) => set({ jarMl: Number(event.currentTarget.value) })}>
            {sizes.map((size) => (
              <option key={size} value={String(size)}>
                {size} mL
              </option>
            ))}
          </select>
        </label>
      </div>
      <details>
        <summary>More figures</summary>
        <p class="dim">{own.length === 0 ? 'All of these are assumptions: put your own in their place.' : 'What this shed has seen stands here already; the rest is assumed. Put your own in their place.'}</p>
        <div class="plan-more">
          {(['onKg', 'offKg', 'cureDays'] as const).map((name) => (
            <SpreadField key={name} name={name} input={input} metric={name === 'cureDays' ? 1 : kilogram.metric / 1_000} unit={name === 'cureDays' ? 'days' : kilogram.unit} isOwn={own.includes(name)} onChange={set} />
          ))}
          {numbers.map(([name, label]) => (
            <NumberField key={name} label={label} value={input[name]} onChange={(value) => set({ [name]: value })} />
          ))}
          <NumberField label="Vinegar in the jar brine, % (by the bench trial)" value={input.vinegarShare * 100} onChange={(value) => set({ vinegarShare: value / 100 })} />
        </div>
      </details>
    </form>
  );
};

const spreadWords: Readonly<Record<SpreadName, string>> = { onKg: 'A tree in its on year', offKg: 'A tree in its off year', cureDays: 'From the pick to the jars' };
const ends = [['low', 'least'], ['likely', 'likely'], ['high', 'most']] as const;

const SpreadField = ({ name, input, metric, unit, isOwn, onChange }: { readonly name: SpreadName; readonly input: PlanInput; readonly metric: number; readonly unit: string; readonly isOwn: boolean; readonly onChange: (change: Partial<PlanInput>) => void }) => (
  <fieldset class="spread">
    <legend>
      {spreadWords[name]}, {unit} <span class="dim">{isOwn ? 'as seen here' : 'assumed'}</span>
    </legend>
    {ends.map(([end, words]) => (
      <NumberField key={end} label={words} value={Math.round((input[name][end] / metric) * 10) / 10} onChange={(value) => onChange({ [name]: { ...input[name], [end]: value * metric } })} />
    ))}
  </fieldset>
);

const NumberField = ({ label, value, onChange }: { readonly label: string; readonly value: number; readonly onChange: (value: number) => void }) => {
  const [typed, setTyped] = useState<string | null>(null);
  return (
    <label class="field">
      <span>{label}</span>
      <input
        inputMode="decimal"
        autocomplete="off"
        value={typed ?? String(Math.round(value * 100) / 100)}
        onInput={(event) => {
          const number = typedNumber(event.currentTarget.value);
          setTyped(event.currentTarget.value);
          if (number !== null) onChange(number);
        }}
        onBlur={() => setTyped(null)}
      />
    </label>
  );
};
