import type { UnitChoice } from '../../format/units.ts';
import { measureOf, type Measure, type Quantity } from './measure.ts';

/** What one question asks. Names are those of the calculator's inputs, so that range and unit are looked up, never repeated. */
export interface NumberField {
  readonly kind: 'number';
  readonly name: string;
  readonly label: string;
  readonly quantity: Quantity;
  readonly unit?: string;
  /** In metric; one press of a key. */
  readonly step: number;
  readonly decimals?: number;
  /** A figure to begin with; null: nothing is given yet. */
  readonly start: number | null;
  /** What is taken while nothing is given, and named as an assumption. */
  readonly assumed?: number;
  /** May stay away; the words invite to give it. */
  readonly invite?: string;
  /** A figure to begin with once it is given. */
  readonly first?: number;
  readonly hint?: string;
  readonly cups?: true;
  /** Typed only, as 1.129e-3: no step makes sense. */
  readonly typedOnly?: true;
  /** Where the calculator has no field of this name. */
  readonly range?: { readonly low: number; readonly high: number };
}

export interface ChoiceField {
  readonly kind: 'choice';
  readonly name: string;
  readonly label: string;
  readonly options: readonly string[];
  readonly words: Readonly<Record<string, string>>;
  readonly start: string;
}

export interface RowsField {
  readonly kind: 'rows';
  readonly name: string;
  readonly label: string;
  /** What one row is called: buffer, stretch, cure. */
  readonly row: string;
  readonly columns: readonly NumberField[];
  readonly start: readonly (readonly number[])[];
  readonly least: number;
  readonly most: number;
}

/** How many fruits of each look: one key each. */
export interface CountsField {
  readonly kind: 'counts';
  readonly name: string;
  readonly label: string;
  readonly looks: readonly string[];
}

export interface TextField {
  readonly kind: 'text';
  readonly name: string;
  readonly label: string;
  readonly hint: string;
  readonly start: string;
  /** Several lines, and at most so many characters. */
  readonly longest?: number;
}

export type Field = NumberField | ChoiceField | RowsField | CountsField | TextField;

/** Null: not given. NaN: typed, but no number. */
export type Cell = number | null;
export type Value = Cell | string | readonly (readonly Cell[])[];
export type Values = Readonly<Record<string, Value>>;

export const measureOfField = ({ quantity, unit, decimals }: NumberField, units: UnitChoice): Measure => measureOf(quantity, units, unit, decimals);

export const startOf = (field: Field): Value => {
  if (field.kind === 'counts') return field.looks.map(() => [0]);
  return field.start;
};

export const startsOf = (fields: readonly Field[]): Values => Object.fromEntries(fields.map((field) => [field.name, startOf(field)]));

export const isRows = (value: Value | undefined): value is readonly (readonly Cell[])[] => Array.isArray(value);
