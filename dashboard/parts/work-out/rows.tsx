import type { Calculators } from '#contract';
import type { UnitChoice } from '../../format/units.ts';
import { manyOf, rangeOf, type Faults } from '../../state/work-out/evaluate.ts';
import { measureOfField, type Cell, type RowsField } from '../../state/work-out/field.ts';
import type { Tool } from '../../state/work-out/tool.ts';
import { Amount } from './amount.tsx';

interface RowsProps {
  readonly tool: Tool;
  readonly field: RowsField;
  readonly rows: readonly (readonly Cell[])[];
  readonly calculators: Calculators;
  readonly units: UnitChoice;
  readonly faults: Faults;
  readonly onChange: (rows: readonly (readonly Cell[])[]) => void;
}

/** Buffers, stretches, cures: as many rows as there are, each with its few numbers. */
export const Rows = ({ tool, field, rows, calculators, units, faults, onChange }: RowsProps) => {
  const set = (index: number, place: number, value: Cell): void => onChange(rows.map((row, at) => (at === index ? row.map((cell, column) => (column === place ? value : cell)) : row)));
  const fixed = field.least === field.most;
  const fault = faults.get(field.name);
  return (
    <fieldset class="rows-field">
      <legend>{field.label}</legend>
      <ol class="input-rows">
        {rows.map((row, index) => (
          // Rows have no name of their own; their place is what they are.
          <li key={index}>
            <div class="input-row-head">
              <span>
                {field.row} {index + 1}
              </span>
              {!fixed && rows.length > field.least && (
                <button type="button" class="quiet" aria-label={`Take away ${field.row} ${String(index + 1)}`} onClick={() => onChange(rows.filter((_, at) => at !== index))}>
                  Take away
                </button>
              )}
            </div>
            <div class="input-cells">
              {field.columns.map((column, place) => (
                <Amount
                  key={column.name} small field={column} value={row[place] ?? null} measure={measureOfField(column, units)} range={rangeOf(calculators, tool, column, field)}
                  fault={faults.get(`${field.name}.${String(index)}.${column.name}`)} of={`${field.row} ${String(index + 1)}`} onChange={(value) => set(index, place, value)}
                />
              ))}
            </div>
          </li>
        ))}
      </ol>
      {fault !== undefined && <p class="fault">{fault}</p>}
      {!fixed && rows.length < field.most && (
        <button type="button" class="quiet add-row" onClick={() => onChange([...rows, rows.at(-1) ?? field.columns.map(({ start }) => start)])}>
          Add a {field.row}
        </button>
      )}
      <p class="hidden-words" role="status">
        {rows.length} {rows.length === 1 ? field.row : manyOf(field.row)}
      </p>
    </fieldset>
  );
};
