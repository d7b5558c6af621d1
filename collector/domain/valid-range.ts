import { fail } from './result.ts';

/** A formula refuses input it was not made for: the field, what was given and what it accepts. Never NaN, never a silent clamp. */
export interface OutsideValidRange {
  readonly code: 'outside-valid-range';
  readonly field: string;
  readonly message: string;
}

/** The values a formula accepts for one field; both ends belong to it. */
export interface ValidRange {
  readonly low: number;
  readonly high: number;
  readonly unit: string;
}

export const outsideValidRange = (field: string, message: string): { readonly ok: false; readonly error: OutsideValidRange } =>
  fail({ code: 'outside-valid-range', field, message });

/** The first field that leaves its range (or is no number), or null when every field is inside. */
export const findOutside = <Field extends string>(
  values: Readonly<Record<Field, number>>,
  ranges: Readonly<Record<Field, ValidRange>>,
): { readonly ok: false; readonly error: OutsideValidRange } | null => {
  for (const field of Object.keys(values) as Field[]) {
    const value = values[field];
    const { low, high, unit } = ranges[field];
    if (!(value >= low && value <= high)) return outsideValidRange(field, `${field} must be from ${low} to ${high} ${unit}`.trim());
  }
  return null;
};
