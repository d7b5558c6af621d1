import { useState } from 'preact/hooks';
import { cullCauses, type NewSorting } from '#contract';
import { massScale } from '../../format/units.ts';
import { kg } from '../../state/pick-words.ts';
import { Options } from '../forms/options.tsx';
import { Stepper } from '../forms/stepper.tsx';
import { useScreen } from '../screen.ts';

/** What was taken out, by cause: one weighing after another. */
export const SortedForm = ({ busy, onSave }: { readonly busy: boolean; readonly onSave: (told: NewSorting) => void }) => {
  const { settings } = useScreen();
  const [cause, setCause] = useState<string>(cullCauses[0]);
  const [amount, setAmount] = useState(1);
  const [culls, setCulls] = useState<NewSorting['culls']>([]);
  return (
    <div class="act-form">
      <Options legend="Sorted out for" name="cause" options={cullCauses} chosen={cause as (typeof cullCauses)[number]} onChoose={setCause} />
      <Stepper label={cause} value={amount * 1_000} scale={massScale(settings.units.value)} step={0.5} decimals={1} least={0.1} onChange={(grams) => setAmount(grams / 1_000)} />
      <button type="button" class="quiet" onClick={() => setCulls([...culls, { cause, kg: Number(amount.toFixed(2)) }])}>
        Add {kg(amount)}, {cause}
      </button>
      <ul class="cull-list" aria-label="Sorted out">
        {culls.map((cull, index) => (
          <li key={index}>
            <span>
              {kg(cull.kg)}, {cull.cause}
            </span>
            <button type="button" class="quiet" aria-label={`Take ${kg(cull.kg)}, ${cull.cause}, off the list`} onClick={() => setCulls(culls.filter((_, at) => at !== index))}>
              Take off
            </button>
          </li>
        ))}
      </ul>
      <button type="button" class="main-act large" disabled={busy} onClick={() => onSave({ culls })}>
        {busy ? 'Sending …' : culls.length === 0 ? 'Sorted: nothing taken out' : `Sorted: ${kg(culls.reduce((sum, each) => sum + each.kg, 0))} out`}
      </button>
    </div>
  );
};
