import { readdirSync, readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import type { AccuracyTable, Confidence } from './accuracy.ts';
import { checkAccuracy } from './accuracy.ts';

/** A published table, vendored in `tests/fixtures/published` with where it comes from. */
export interface PublishedTable {
  readonly name: string;
  readonly quantity: string;
  readonly unit: string;
  readonly source: string;
  readonly confidence: Confidence;
  readonly note?: string;
  readonly columns: readonly string[];
  readonly rows: readonly (readonly (number | string)[])[];
}

const folder = new URL('../fixtures/published/', import.meta.url);
const compared = new Map<string, Set<string>>();

export const published = (name: string): PublishedTable => {
  const table = JSON.parse(readFileSync(new URL(`${name}.json`, folder), 'utf8')) as Omit<PublishedTable, 'name'>;
  return { ...table, name };
};

/** A number in a table, by the name of its column. */
export const cell = (table: PublishedTable, row: readonly (number | string)[], column: string): number => {
  const value = row[table.columns.indexOf(column)];
  if (typeof value !== 'number') throw new Error(`${table.name} has no number in column ${column}`);
  return value;
};

type PublishedCheck<Input> = Pick<AccuracyTable<Input>, 'tolerance' | 'reason' | 'actual' | 'mistakes'> &
  Partial<Pick<AccuracyTable<Input>, 'quantity' | 'unit' | 'relative' | 'confidence'>> & {
    readonly table: PublishedTable;
    readonly column: string;
    readonly input: (at: (column: string) => number) => Input;
    /** The printed value in the unit of the check, where the table prints another one. */
    readonly convert?: (printed: number) => number;
  };

/** Compares one column of a published table, all of it, and notes that it was compared. */
export const checkPublished = <Input>({ table, column, input, convert = (printed) => printed, ...check }: PublishedCheck<Input>): void => {
  const done = compared.get(table.name) ?? new Set();
  compared.set(table.name, done.add(column));
  const rows = table.rows.map((row) => {
    const at = (name: string): number => cell(table, row, name);
    return [input(at), convert(at(column))] as const;
  });
  checkAccuracy({ quantity: `${table.quantity}: ${column}`, unit: table.unit, source: table.source, confidence: table.confidence, ...check, rows });
};

/** Last in a file: fails when a vendored table of its topic, or a column that is not an input, was compared with nothing. */
export const everyTableCompared = (topic: string, inputs: readonly string[]): void => {
  test(`no value of the vendored ${topic} tables was left out of the comparison`, () => {
    const names = readdirSync(folder).filter((name) => name.startsWith(`${topic}-`)).map((name) => name.replace('.json', ''));
    const left = names.flatMap((name) =>
      published(name).columns.filter((column) => !inputs.includes(column) && compared.get(name)?.has(column) !== true).map((column) => `${name}: ${column}`),
    );
    expect(names.length).toBeGreaterThan(0);
    expect(left).toEqual([]);
  });
};
