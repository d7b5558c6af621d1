import { useState } from 'preact/hooks';
import { typedNumber, type Scale } from '../../format/units.ts';

interface StepperProps {
  readonly label: string;
  /** In the metric unit inside. */
  readonly value: number;
  readonly scale: Scale;
  /** In shown units. */
  readonly step: number;
  readonly decimals: number;
  readonly least?: number;
  readonly onChange: (value: number) => void;
}

/** A number for wet hands: two large keys, and a field for those who would rather type. */
export const Stepper = ({ label, value, scale, step, decimals, least = 0, onChange }: StepperProps) => {
  const shown = Number((value / scale.metric).toFixed(decimals));
  const [typed, setTyped] = useState<string | null>(null);
  const change = (by: number): void => {
    setTyped(null);
    // To the next whole step, so that 1.74 and 0.1 give 1.8 and then 1.9.
    const next = by > 0 ? Math.floor(shown / step + 1e-6) * step + step : Math.ceil(shown / step - 1e-6) * step - step;
    onChange(Math.max(least, Number(next.toFixed(decimals))) * scale.metric);
  };
  return (
    <div class="stepper" role="group" aria-label={label}>
      <button type="button" aria-label={`less ${label}`} onClick={() => change(-step)}>
        −
      </button>
      <label>
        <span class="stepper-value">
          <input
            type="text"
            inputMode="decimal"
            autocomplete="off"
            size={5}
            value={typed ?? String(shown)}
            onInput={(event) => {
              const text = event.currentTarget.value;
              const number = typedNumber(text);
              setTyped(text);
              if (number !== null && number >= least) onChange(number * scale.metric);
            }}
            onKeyDown={(event) => {
              if (event.key !== 'ArrowUp' && event.key !== 'ArrowDown') return;
              event.preventDefault();
              change(event.key === 'ArrowUp' ? step : -step);
            }}
            onBlur={() => setTyped(null)}
          />
          <span>{scale.unit}</span>
        </span>
        <span class="stepper-label">{label}</span>
      </label>
      <button type="button" aria-label={`more ${label}`} onClick={() => change(step)}>
        +
      </button>
    </div>
  );
};
