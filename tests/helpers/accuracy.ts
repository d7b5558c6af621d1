import { describe, expect, test } from 'vitest';

/** How far a stated value may be trusted. */
export type Confidence =
  | 'read in the cited source'
  | 'read in a second copy of the source'
  | 'computed from cited inputs by the cited equation'
  | 'from memory'
  | 'assumption'
  | 'common practice, no source';

export interface AccuracyTable<Input> {
  readonly quantity: string;
  readonly unit: string;
  readonly source: string;
  readonly confidence: Confidence;
  /** The largest difference allowed on any row, in `unit`, or as a share of the expected value when `relative`. */
  readonly tolerance: number;
  readonly relative?: boolean;
  /** Why the tolerance is what it is. */
  readonly reason: string;
  readonly rows: readonly (readonly [input: Input, expected: number])[];
  readonly actual: (input: Input) => number;
  /** Plausible mistakes by name: each must miss the tolerance on at least one row, or the table proves nothing. */
  readonly mistakes: Readonly<Record<string, (input: Input) => number>>;
}

/** Compares every row of a table of stated values and shows mean and worst residual in the test's name. */
export const checkAccuracy = <Input>(table: AccuracyTable<Input>): void => {
  const residuals = (compute: (input: Input) => number): number[] =>
    table.rows.map(([input, expected]) => Math.abs(compute(input) - expected) / (table.relative === true ? Math.abs(expected) : 1));
  describe(`${table.quantity} (${table.source}; ${table.confidence}; within ${table.tolerance} ${table.relative === true ? 'of the value' : table.unit}: ${table.reason})`, () => {
    const found = residuals(table.actual);
    const mean = found.reduce((sum, residual) => sum + residual, 0) / found.length;
    test(`${found.length} rows: mean residual ${mean.toPrecision(2)}, worst ${Math.max(...found).toPrecision(2)}`, () => {
      expect(table.rows.length).toBeGreaterThan(0);
      const outside = table.rows.filter((_row, i) => !((found[i] as number) <= table.tolerance));
      expect(outside.map(([input, expected]) => ({ input, expected, actual: table.actual(input) }))).toEqual([]);
    });
    for (const [mistake, compute] of Object.entries(table.mistakes)) {
      test(`would notice: ${mistake}`, () => {
        expect(residuals(compute).some((residual) => !(residual <= table.tolerance))).toBe(true);
      });
    }
  });
};
