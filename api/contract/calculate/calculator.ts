import { z } from 'zod';
import type { Result } from '#domain/result.ts';
import { fail, ok } from '#domain/result.ts';
import type { OutsideValidRange } from '#domain/valid-range.ts';
import { outsideValidRange } from '#domain/valid-range.ts';
import type { Beside, InputField } from '../calculators.ts';
import { beside } from '../calculators.ts';
import type { InputSchema, ValidRanges } from './fields.ts';
import { fieldsOf, findOutsideField, rangesOf } from './fields.ts';

/** What a calculator found, and what of the things beside it differs with the input. */
export interface Found<Answer> {
  readonly answer: Answer;
  /** Defaults that are not fields left out; those are found without being told. */
  readonly assumed?: readonly string[];
  readonly caution?: string | null;
  /** Narrower ranges, where one field decides how far another may go. */
  readonly validRange?: ValidRanges;
  /** The one source, where the general one names several. */
  readonly source?: string;
}

export interface DoesNotFit {
  readonly code: 'does-not-fit';
  readonly error: z.ZodError;
}

interface Definition<Input extends InputSchema, Answer extends z.ZodRawShape> {
  readonly title: string;
  readonly purpose: string;
  readonly source: string;
  readonly input: Input;
  readonly answer: Answer;
  readonly find: (input: z.output<Input>) => Result<Found<z.output<z.ZodObject<Answer>>>, OutsideValidRange>;
}

export interface Calculator<Input extends InputSchema = InputSchema, Answer extends z.ZodRawShape = z.ZodRawShape> {
  readonly title: string;
  readonly purpose: string;
  readonly source: string;
  readonly input: Input;
  readonly answer: z.ZodObject<Answer & typeof beside.shape>;
  readonly fields: readonly InputField[];
  readonly validRange: ValidRanges;
  /** Checks anything at all and works it out: never an exception, never a number that is none. */
  work(given: unknown): Result<z.output<z.ZodObject<Answer>> & Beside, OutsideValidRange | DoesNotFit>;
}

/** Numbers of an answer, each with the unit that a screen writes behind it. */
export const number = (unit: string, title?: string) => z.number().meta({ unit, ...(title === undefined ? {} : { title }) });

/** A formula's result as it stands, with what depends on it. */
export const asFound = <Answer>(result: Result<Answer, OutsideValidRange>, more: (answer: Answer) => Omit<Found<Answer>, 'answer'> = () => ({})): Result<Found<Answer>, OutsideValidRange> =>
  result.ok ? ok({ answer: result.value, ...more(result.value) }) : result;

export const calculator = <Input extends InputSchema, Answer extends z.ZodRawShape>({ answer, find, ...told }: Definition<Input, Answer>): Calculator<Input, Answer> => {
  const fields = fieldsOf(told.input);
  const validRange = rangesOf(fields);
  return {
    ...told, fields, validRange,
    answer: z.object({ ...answer, ...beside.shape }),
    work: (given) => {
      const parsed = told.input.safeParse(given);
      if (!parsed.success) return fail({ code: 'does-not-fit', error: parsed.error });
      const outside = findOutsideField(fields, parsed.data);
      if (outside !== null) return outside;
      const found = find(parsed.data as z.output<Input>);
      if (!found.ok) return found;
      const { answer: numbers, assumed = [], caution = null, validRange: narrower = {}, source = told.source } = found.value;
      if (!allFinite(numbers)) return outsideValidRange('', 'these values together give no number: each is possible, all at once are not');
      const names = [...leftOut(fields, given as Record<string, unknown>), ...assumed];
      return ok({
        ...numbers, source, validRange: { ...rangesOf(fields.filter(({ onlyFor }) => onlyFor === undefined || onlyFor === parsed.data['kind'])), ...narrower },
        ...(names.length === 0 ? {} : { assumed: names }), ...(caution === null ? {} : { caution }),
      });
    },
  };
};

/** Fields with a default that were not given, rows by their column. */
const leftOut = (fields: readonly InputField[], given: Readonly<Record<string, unknown>>): string[] =>
  fields.flatMap(({ name, default: fallback, rows }) => {
    const value = given[name];
    if (rows !== undefined && Array.isArray(value)) return [...new Set((value as Record<string, unknown>[]).flatMap((row) => leftOut(rows, row)))].map((column) => `${name}.${column}`);
    return fallback !== undefined && value === undefined ? [name] : [];
  });

const allFinite = (value: unknown): boolean => {
  if (typeof value === 'number') return Number.isFinite(value);
  return typeof value !== 'object' || value === null || Object.values(value).every(allFinite);
};
