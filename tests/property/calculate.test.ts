import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { z } from 'zod';
import { calculatorNames, loadCalculators, type InputField } from '#contract';
import { calculateExamples } from '../helpers/calculate-examples.ts';

const { calculators } = await loadCalculators();

/** Numbers a field says it takes, with the ends often. */
const numberIn = ({ name, low = 0, high = 1 }: InputField): fc.Arbitrary<number> =>
  name === 'counts' ? fc.integer({ min: low, max: high }) : fc.oneof({ weight: 1, arbitrary: fc.constantFrom(low, high) }, { weight: 4, arbitrary: fc.double({ min: low, max: high, noNaN: true }) });

const valueOf = (field: InputField): fc.Arbitrary<unknown> => {
  if (field.kind === 'choice') return fc.constantFrom(...(field.choices ?? []));
  if (field.kind === 'yes-no') return fc.boolean();
  if (field.kind === 'text') return fc.array(fc.integer({ min: 0, max: 255 }), { minLength: 9, maxLength: 9 }).map((bytes) => bytes.map((byte) => byte.toString(16).padStart(2, '0')).join(''));
  if (field.kind === 'rows') return fc.array(recordOf(field.rows ?? []), { maxLength: Math.min(12, field.most ?? 12) });
  if (field.kind === 'numbers') return fc.array(numberIn(field), field.name === 'counts' ? { minLength: 8, maxLength: 8 } : { maxLength: 12 });
  return numberIn(field);
};

const recordOf = (fields: readonly InputField[]): fc.Arbitrary<Record<string, unknown>> =>
  fc.record(Object.fromEntries(fields.map((field) => [field.name, valueOf(field)])), { requiredKeys: fields.filter(({ required }) => required).map(({ name }) => name) });

/** Inputs inside every range, one way of saying each thing. */
const inputOf = (fields: readonly InputField[]): fc.Arbitrary<Record<string, unknown>> => {
  const kinds = fields.find(({ name, kind }) => name === 'kind' && kind === 'choice')?.choices ?? [null];
  return fc.constantFrom(...kinds).chain((kind) => {
    const own = fields.filter(({ name, onlyFor }) => (name !== 'kind' || kind === null) && (onlyFor === undefined || onlyFor === kind));
    const first = own.find(({ insteadOf }) => insteadOf !== undefined);
    return fc.boolean().chain((asFirst) => {
      const way = own.filter(({ name, insteadOf }) => insteadOf === undefined || insteadOf.includes(first?.name ?? '') !== asFirst || name === (asFirst ? first?.name : ''));
      return recordOf(way.map((field) => (field.insteadOf === undefined ? field : { ...field, required: true }))).map((input) => (kind === null ? input : { kind, ...input }));
    });
  });
};

const isPlain = (value: unknown): boolean => {
  if (typeof value === 'number') return Number.isFinite(value);
  if (typeof value !== 'object' || value === null) return typeof value !== 'undefined';
  return Object.values(value).every(isPlain);
};

describe.each(calculatorNames)('%s', (name) => {
  const calculator = calculators[name];
  const answer = z.strictObject(calculator.answer.shape);

  test('whatever lies in its ranges is answered by plain finite numbers, or refused by name', () => {
    fc.assert(
      fc.property(inputOf(calculator.fields), (input) => {
        const worked = calculator.work(input);
        if (!worked.ok) {
          if (worked.error.code === 'does-not-fit') throw worked.error.error;
          expect(worked.error.field).toMatch(/\w/);
          return;
        }
        expect(isPlain(worked.value)).toBe(true);
        expect(answer.safeParse(worked.value).error).toBeUndefined();
      }),
      { numRuns: 150, examples: calculateExamples[name].map((example) => [example as Record<string, unknown>]) },
    );
  });

  test('anything at all is answered or refused, never an exception', () => {
    fc.assert(
      fc.property(fc.oneof(fc.anything(), fc.jsonValue(), inputOf(calculator.fields).chain((input) => fc.constantFrom(...Object.keys(input)).chain((key) => fc.anything().map((junk) => ({ ...input, [key]: junk }))))), (input) => {
        const worked = calculator.work(input);
        if (worked.ok) expect(isPlain(worked.value)).toBe(true);
        else expect(['does-not-fit', 'outside-valid-range']).toContain(worked.error.code);
      }),
      { numRuns: 150 },
    );
  });
});
