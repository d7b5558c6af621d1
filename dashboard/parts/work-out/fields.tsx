import type { ComponentChildren } from 'preact';
import type { Calculators } from '#contract';
import type { UnitChoice } from '../../format/units.ts';
import { rangeOf, type Faults } from '../../state/work-out/evaluate.ts';
import { isRows, measureOfField, type Field, type NumberField, type Value, type Values } from '../../state/work-out/field.ts';
import { inMeasure, withUnit } from '../../state/work-out/measure.ts';
import type { Tool } from '../../state/work-out/tool.ts';
import { Options } from '../forms/options.tsx';
import { Amount } from './amount.tsx';
import { FruitCounts } from './fruit-counts.tsx';
import { Rows } from './rows.tsx';

interface FieldsProps {
  readonly tool: Tool;
  readonly values: Values;
  readonly calculators: Calculators;
  readonly units: UnitChoice;
  readonly faults: Faults;
  readonly onChange: (name: string, value: Value) => void;
  /** What is said of the values right below them. */
  readonly children?: ComponentChildren;
}

/** A number that need not be given and is not. */
const awayOf = (field: Field, values: Values): NumberField | null =>
  field.kind === 'number' && (values[field.name] ?? null) === null && (field.invite !== undefined || field.assumed !== undefined) ? field : null;

/** What is asked, then what is taken for granted: each assumption can be replaced by the grower's own figure. */
export const Fields = ({ tool, values, calculators, units, faults, onChange, children }: FieldsProps) => {
  const fields = tool.fields(values);
  const assumed = fields.flatMap((field) => awayOf(field, values) ?? []).filter(({ invite }) => invite === undefined);
  return (
    <div class="questions">
      {fields.map((field) => {
        const value = values[field.name] ?? null;
        const away = awayOf(field, values);
        if (away !== null) {
          return away.invite === undefined ? null : (
            <button key={field.name} type="button" class="quiet invite" onClick={() => onChange(field.name, away.first ?? away.start ?? 1)}>
              {away.invite}
            </button>
          );
        }
        switch (field.kind) {
          case 'number':
            return (
              <div key={field.name}>
                <Amount field={field} value={typeof value === 'number' ? value : null} measure={measureOfField(field, units)} range={rangeOf(calculators, tool, field)} fault={faults.get(field.name)} onChange={(next) => onChange(field.name, next)} />
                {(field.assumed !== undefined || field.invite !== undefined) && (
                  <button type="button" class="link-act" onClick={() => onChange(field.name, null)}>
                    {field.assumed === undefined ? `Leave out: ${field.label}` : `Back to the assumed ${said(field, units)}`}
                  </button>
                )}
              </div>
            );
          case 'choice':
            return <Options key={field.name} name={field.name} legend={field.label} options={field.options} words={field.words} chosen={typeof value === 'string' ? value : field.start} onChoose={(next) => onChange(field.name, next)} />;
          case 'rows':
            return <Rows key={field.name} tool={tool} field={field} rows={isRows(value) ? value : field.start} calculators={calculators} units={units} faults={faults} onChange={(next) => onChange(field.name, next)} />;
          case 'counts':
            return <FruitCounts key={field.name} field={field} rows={isRows(value) ? value : []} fault={faults.get(field.name)} onChange={(next) => onChange(field.name, next)} />;
          case 'text':
            return (
              <label key={field.name} class="field">
                {field.label}
                {field.longest !== undefined && <textarea rows={9} maxLength={field.longest} spellcheck={false} value={typeof value === 'string' ? value : ''} aria-invalid={faults.has(field.name)} onInput={(event) => onChange(field.name, event.currentTarget.value)} />}
                {field.longest === undefined && <input type="text" autocomplete="off" spellcheck={false} value={typeof value === 'string' ? value : ''} aria-invalid={faults.has(field.name)} onInput={(event) => onChange(field.name, event.currentTarget.value)} />}
                {faults.has(field.name) && <span class="fault">{faults.get(field.name)}</span>}
                <span class="hint">{field.hint}</span>
              </label>
            );
        }
      })}
      {assumed.length > 0 && (
        <section class="taken" aria-labelledby="taken-title">
          <h2 id="taken-title">Assumed, until you know better</h2>
          <ul>
            {assumed.map((field) => (
              <li key={field.name}>
                <span>
                  <b>{said(field, units)}</b> {field.label}
                </span>
                <button type="button" class="quiet" aria-label={`Change ${said(field, units)} ${field.label}`} onClick={() => onChange(field.name, field.assumed ?? 0)}>
                  Change
                </button>
              </li>
            ))}
          </ul>
        </section>
      )}
      {children}
    </div>
  );
};

const said = (field: NumberField, units: UnitChoice): string => {
  const measure = measureOfField(field, units);
  return withUnit(inMeasure(field.assumed ?? 0, measure), measure.unit);
};
