import { useId, useState } from 'preact/hooks';
import { typedNumber } from '../../format/units.ts';
import type { Cell, NumberField } from '../../state/work-out/field.ts';
import { cupsInWords, inMeasure, nextCup, shownStep, typedCups, type Measure } from '../../state/work-out/measure.ts';
import { touchFirst } from './touch.ts';
import { NumberPad } from './number-pad.tsx';

export interface AmountProps {
  readonly field: NumberField;
  readonly value: Cell;
  readonly measure: Measure;
  readonly range: { readonly low: number; readonly high: number } | null;
  readonly fault: string | undefined;
  /** Which row it belongs to, for those who hear it. */
  readonly of?: string;
  readonly small?: boolean;
  readonly onChange: (value: Cell) => void;
}

export const textOf = (value: Cell, field: NumberField, measure: Measure): string => {
  if (value === null || Number.isNaN(value)) return '';
  if (field.cups === true) return cupsInWords(value);
  return field.typedOnly === true ? String(value) : inMeasure(value, measure);
};

export const numberIn = (text: string, field: NumberField): number | null => {
  if (field.cups === true) return typedCups(text);
  if (field.typedOnly !== true) return typedNumber(text);
  const value = text.trim() === '' ? Number.NaN : Number(text.trim());
  return Number.isFinite(value) ? value : null;
};

/** One press of a key, to the next whole step and no further than the calculator goes. */
export const pressed = (value: Cell, up: boolean, field: NumberField, measure: Measure, range: AmountProps['range']): number => {
  const from = value === null || Number.isNaN(value) ? (field.assumed ?? field.start ?? range?.low ?? 0) : value;
  const step = shownStep(field.step, measure);
  const shown = measure.toShown(from);
  const next = field.cups === true ? nextCup(from, up) : measure.toMetric(Number(((up ? Math.floor(shown / step + 1e-6) + 1 : Math.ceil(shown / step - 1e-6) - 1) * step).toFixed(9)));
  return range === null ? next : Math.min(range.high, Math.max(range.low, next));
};

/** A number for wet hands: two large keys, a pad of large keys where there is a touch screen, and a field for those who would rather type. */
export const Amount = ({ field, value, measure, range, fault, of, small = false, onChange }: AmountProps) => {
  const id = useId();
  const [typed, setTyped] = useState<string | null>(null);
  const [padOpen, setPadOpen] = useState(false);
  const name = of === undefined ? field.label : `${field.label}, ${of}`;
  const press = (up: boolean): void => {
    setTyped(null);
    onChange(pressed(value, up, field, measure, range));
  };
  const take = (text: string): void => {
    setTyped(text);
    const number = numberIn(text, field);
    // Nothing readable is not the same as nothing given: the field stays, with its fault.
    onChange(number === null ? Number.NaN : measure.toMetric(number));
  };
  const described = [fault === undefined ? '' : `${id}-fault`, field.hint === undefined ? '' : `${id}-hint`].filter((part) => part !== '').join(' ');
  return (
    <div class="amount" data-fault={fault === undefined ? undefined : 'yes'}>
      <div class={`stepper${small ? ' small' : ''}${field.typedOnly === true ? ' typed-only' : ''}`} role="group" aria-label={name}>
        {field.typedOnly !== true && (
          <button type="button" aria-label={`less ${name}`} onClick={() => press(false)}>
            −
          </button>
        )}
        <label>
          <span class="stepper-value">
            <input
              type="text"
              inputMode={touchFirst() && field.typedOnly !== true ? 'none' : 'decimal'}
              autocomplete="off"
              size={field.typedOnly === true ? 14 : 5}
              aria-invalid={fault !== undefined}
              aria-describedby={described === '' ? undefined : described}
              value={typed ?? textOf(value, field, measure)}
              onInput={(event) => take(event.currentTarget.value)}
              onClick={() => touchFirst() && field.typedOnly !== true && setPadOpen(true)}
              onKeyDown={(event) => {
                if (field.typedOnly === true || (event.key !== 'ArrowUp' && event.key !== 'ArrowDown')) return;
                event.preventDefault();
                press(event.key === 'ArrowUp');
              }}
              onBlur={() => {
                // An empty or unreadable field stays as it is, with its fault beside it.
                if (typed !== null && numberIn(typed, field) !== null) setTyped(null);
              }}
            />
            <span>{measure.unit}</span>
          </span>
          <span class="stepper-label">
            {field.label}
            {of !== undefined && <span class="hidden-words">, {of}</span>}
          </span>
        </label>
        {field.typedOnly !== true && (
          <button type="button" aria-label={`more ${name}`} onClick={() => press(true)}>
            +
          </button>
        )}
      </div>
      {fault !== undefined && (
        <p class="fault" id={`${id}-fault`}>
          {fault}
        </p>
      )}
      {field.hint !== undefined && (
        <p class="hint" id={`${id}-hint`}>
          {field.hint}
        </p>
      )}
      {padOpen && (
        <NumberPad
          title={name}
          unit={measure.unit}
          start={textOf(value, field, measure)}
          cups={field.cups === true}
          signed={range !== null && measure.toShown(range.low) < 0}
          fault={fault}
          onType={take}
          onClose={() => {
            setTyped(null);
            setPadOpen(false);
          }}
        />
      )}
    </div>
  );
};
