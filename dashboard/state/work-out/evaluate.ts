import type { Calculators } from '#contract';
import type { UnitChoice } from '../../format/units.ts';
import { isRows, measureOfField, type Cell, type Field, type NumberField, type RowsField, type Values } from './field.ts';
import { degreesInWords, withUnit, type Measure } from './measure.ts';
import { assumedWords, merged, type Told } from './words.ts';
import { fieldMark, type Answer, type Bench, type Given, type Refusal, type Tool } from './tool.ts';

/** What stands on the screen of a question: an answer, or what is wrong, by the place where it is wrong. */
export type Shown = { readonly kind: 'answer'; readonly answer: Answer; readonly told: Told } | { readonly kind: 'faults'; readonly faults: Faults };

/** By field, or `field.row.column` within rows. */
export type Faults = ReadonlyMap<string, string>;

interface Range {
  readonly low: number;
  readonly high: number;
}

/** Rounded inward, so that what the words allow is really allowed. */
const bound = (metric: number, measure: Measure, up: boolean): string => {
  const shown = measure.toShown(metric);
  const decimals = shown === 0 ? 0 : Math.min(4, Math.max(0, 2 - Math.floor(Math.log10(Math.abs(shown)))));
  const scaled = shown * 10 ** decimals;
  const rounded = (up ? Math.ceil(scaled - 1e-6) : Math.floor(scaled + 1e-6)) / 10 ** decimals;
  // Adding zero makes a minus zero plain.
  return (rounded + 0).toLocaleString('en-GB', { maximumFractionDigits: 4 }).replace('-', '−');
};

export const rangeInWords = ({ low, high }: Range, measure: Measure): string => `${bound(low, measure, true)} to ${withUnit(bound(high, measure, false), measure.unit)}`;

const faultOf = (value: Cell, range: Range | null, measure: Measure, needed: boolean): string | null => {
  if (value === null ? needed : Number.isNaN(value)) return 'Put in a number.';
  if (value === null) return null;
  if (range === null || (value >= range.low && value <= range.high)) return null;
  return `Too ${value < range.low ? 'low' : 'high'}: this is worked out from ${rangeInWords(range, measure)}.`;
};

export const rangeOf = (calculators: Calculators, tool: Tool, field: NumberField, rows?: RowsField): Range | null => {
  if (field.range !== undefined) return field.range;
  const ranges: Readonly<Record<string, Range>> = calculators[tool.calculator].validRange;
  return ranges[rows === undefined ? field.name : `${rows.name}.${field.name}`] ?? null;
};

const isNeeded = (field: NumberField): boolean => field.assumed === undefined && field.invite === undefined;

const faultsOf = (tool: Tool, fields: readonly Field[], values: Values, { calculators, units }: Bench): Faults => {
  const faults = new Map<string, string>();
  const judge = (path: string, value: Cell, field: NumberField, rows?: RowsField): void => {
    const fault = faultOf(value, rangeOf(calculators, tool, field, rows), measureOfField(field, units), isNeeded(field));
    if (fault !== null) faults.set(path, fault);
  };
  for (const field of fields) {
    const value = values[field.name] ?? null;
    if (field.kind === 'number') judge(field.name, typeof value === 'number' ? value : null, field);
    if (field.kind === 'counts' && isRows(value) && value.every(([count]) => count === 0)) faults.set(field.name, 'Press a colour for each fruit you look at.');
    if (field.kind === 'rows' && isRows(value)) {
      for (const [index, row] of value.entries()) field.columns.forEach((column, place) => judge(`${field.name}.${String(index)}.${column.name}`, row[place] ?? null, column, field));
    }
  }
  return faults;
};

const givenOf = (fields: readonly Field[], values: Values): Given => {
  const own = (name: string): number | undefined => {
    const value = values[name];
    return typeof value === 'number' && fields.some((field) => field.name === name) ? value : undefined;
  };
  const assumed = (name: string): number => {
    const field = fields.find((one) => one.name === name);
    return field?.kind === 'number' && field.assumed !== undefined ? field.assumed : Number.NaN;
  };
  return {
    own,
    number: (name) => own(name) ?? assumed(name),
    choice: (name) => (typeof values[name] === 'string' ? values[name] : ''),
    rows: (name) => (isRows(values[name]) ? (values[name] as readonly (readonly number[])[]) : []),
  };
};

const nameOf = (fields: readonly Field[], path: string): { readonly at: string; readonly label: string } => {
  const [first = '', row, column] = path.split('.');
  const field = fields.find(({ name }) => name === first);
  if (field === undefined) return { at: '', label: 'This' };
  if (field.kind === 'rows' && row !== undefined) return { at: column === undefined ? first : path, label: `The ${field.row}` };
  return { at: first, label: field.kind === 'rows' ? `The ${manyOf(field.row)}` : capital(field.label) };
};

export const manyOf = (word: string): string => `${word}${word.endsWith('ch') ? 'es' : 's'}`;

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

/** The calculator's own words, with the field named as the screen has it and temperatures as the reader has them. */
const sentenceOf = ({ message }: Refusal, label: string, units: UnitChoice): string => {
  const named = message.replace(fieldMark, label).replace(/\b(\w+) \1\b/, '$1');
  const own = units.temperature === 'F' ? named.replace(/(-?\d+(?:\.\d+)?) °C/g, (_, celsius: string) => degreesInWords(Number(celsius), units)) : named;
  return `${capital(own)}${/[.!?]$/.test(own) ? '' : '.'}`;
};

export const evaluate = (tool: Tool, values: Values, bench: Bench): Shown => {
  const fields = tool.fields(values);
  const faults = faultsOf(tool, fields, values, bench);
  if (faults.size > 0) return { kind: 'faults', faults };
  const found = tool.find(givenOf(fields, values), bench);
  if (!found.ok) {
    const { at, label } = nameOf(fields, found.error.field);
    return { kind: 'faults', faults: new Map([[at, sentenceOf(found.error, label, bench.units)]]) };
  }
  const onScreen = new Set(fields.flatMap((field) => (field.kind === 'number' ? [field.name] : [])));
  const told = merged(found.value.beside);
  return { kind: 'answer', answer: found.value, told: { ...told, assumed: told.assumed.filter((name) => !onScreen.has(name)).map((name) => assumedWords[name] ?? name) } };
};
