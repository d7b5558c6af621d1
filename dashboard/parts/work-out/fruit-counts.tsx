import type { Cell, CountsField } from '../../state/work-out/field.ts';
import { FruitMark } from '../fruit-mark.tsx';

interface FruitCountsProps {
  readonly field: CountsField;
  readonly rows: readonly (readonly Cell[])[];
  readonly fault: string | undefined;
  readonly onChange: (rows: readonly (readonly Cell[])[]) => void;
}

/** One large key a look: press it for each fruit drawn. */
export const FruitCounts = ({ field, rows, fault, onChange }: FruitCountsProps) => {
  const count = (index: number): number => rows[index]?.[0] ?? 0;
  const total = rows.reduce((sum, _, index) => sum + count(index), 0);
  const set = (index: number, by: number): void => onChange(rows.map((row, at) => (at === index ? [Math.max(0, count(index) + by)] : row)));
  return (
    <fieldset class="rows-field">
      <legend class="hidden-words">{field.label}</legend>
      <p class="fruit-total" role="status">
        <b>{total}</b> of about 100; cut the black ones
      </p>
      <ol class="fruit-keys" start={0}>
        {field.looks.map((look, index) => (
          <li key={look}>
            <button type="button" class="fruit-key" onClick={() => set(index, 1)}>
              <FruitMark index={index} />
              <b>{count(index)}</b>
              <span>
                {look}
                <span class="hidden-words">, one more</span>
              </span>
            </button>
            <button type="button" class="quiet" disabled={count(index) === 0} aria-label={`− one ${look}`} onClick={() => set(index, -1)}>
              −
            </button>
          </li>
        ))}
      </ol>
      {fault !== undefined && <p class="hint">{fault}</p>}
      {total > 0 && (
        <button type="button" class="quiet" onClick={() => onChange(rows.map(() => [0]))}>
          Begin again
        </button>
      )}
    </fieldset>
  );
};
