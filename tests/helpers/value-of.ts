import type { Result } from '#domain/result.ts';

/** The value of a result that a test expects to be good; otherwise the refusal is the test's failure. */
export const valueOf = <Value>(result: Result<Value, unknown>): Value => {
  if (!result.ok) throw new Error(`refused: ${JSON.stringify(result.error)}`);
  return result.value;
};
