import { useState } from 'preact/hooks';
import type { Ingredient, NewCount } from '#contract';
import { Stepper } from '../forms/stepper.tsx';

/** What the scale says is left. */
export const CountForm = ({ ingredient, busy, onSave }: { readonly ingredient: Ingredient; readonly busy: boolean; readonly onSave: (told: NewCount) => void }) => {
  const { unit, balance, quantity } = ingredient;
  const [left, setLeft] = useState(Math.max(0, Math.round(balance.expected * 100) / 100));
  const [spilled, setSpilled] = useState(0);
  const scale = { unit, metric: 1 };
  return (
    <form
      class="act-form"
      onSubmit={(event) => {
        event.preventDefault();
        onSave({ left, ...(spilled > 0 && { spilled }) });
      }}
    >
      <p>By what was written, about {Math.max(0, Math.round(balance.expected * 100) / 100)} {unit} should be left. Weigh it; do not copy that number.</p>
      <Stepper label="left" value={left} scale={scale} step={1} decimals={2} onChange={(value) => setLeft(Math.min(quantity, value))} />
      <Stepper label="spilled or spoiled since the last count" value={spilled} scale={scale} step={0.1} decimals={2} onChange={setSpilled} />
      <button type="submit" class="main-act large" disabled={busy}>
        {busy ? 'Sending …' : 'Counted'}
      </button>
    </form>
  );
};
