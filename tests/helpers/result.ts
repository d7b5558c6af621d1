import { expect } from 'vitest';
import type { Result } from '#domain/result.ts';

/** The value of a result that must not have been refused. */
export const valueOf = <Value>(result: Result<Value, { readonly message?: string }>): Value => {
  if (!result.ok) throw new Error(`refused: ${result.error.message ?? JSON.stringify(result.error)}`);
  return result.value;
};

/** Expects a refusal that names the field. */
export const expectOutside = (result: Result<unknown, object>, field: string): void => {
  expect(result).toMatchObject({ ok: false, error: { code: 'outside-valid-range', field } });
};

/** Numbers all the way down, or a refusal by name: never NaN or Infinity. */
export const isSound = (result: Result<unknown, { readonly code: string }>): boolean =>
  result.ok ? allFinite(result.value) : result.error.code === 'outside-valid-range';

const allFinite = (value: unknown): boolean => {
  if (typeof value === 'number') return Number.isFinite(value);
  return typeof value !== 'object' || value === null || Object.values(value).every(allFinite);
};
