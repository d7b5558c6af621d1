import { z } from 'zod';
import type { OutsideValidRange, ValidRange } from '#domain/valid-range.ts';
import { findOutside } from '#domain/valid-range.ts';
import type { InputField } from '../calculators.ts';

/**
 * The inputs of a calculator are one zod schema; their range, unit and title travel in its metadata. Form, range check, list and OpenAPI
 * are all read from it. A range is not a rule of the schema: leaving it is a different mistake from sending something else than a number.
 */
export const quantity = (title: string, { low, high, unit }: ValidRange) => z.number().meta({ title, unit, minimum: low, maximum: high });

export const wholeNumber = (title: string, { low, high, unit }: ValidRange) => z.int().meta({ title, unit, minimum: low, maximum: high });

export const choice = <const Options extends readonly string[]>(title: string, options: Options) => z.enum(options).meta({ title });

export const rows = <Shape extends z.ZodRawShape>(title: string, shape: Shape, most: number) => z.array(z.strictObject(shape)).max(most).meta({ title, maxItems: most });

export const numbers = (title: string, each: z.ZodNumber, most: number) => z.array(each).max(most).meta({ title, maxItems: most });

export const mostParts = 2_000;
/** A history in stretches, each at one temperature. */
export const temperatureParts = (title: string, hours: ValidRange, temperatureC: ValidRange) =>
  rows(title, { hours: quantity('Hours', hours), temperatureC: quantity('Temperature', temperatureC) }, mostParts);

const and = (names: readonly string[]): string => names.join(', ').replace(/, (\w+)$/, ' and $1');

/** One of several ways to say the same thing, each by one field or by some together: given twice it would be a guess which one counts. */
export const oneWay = <Schema extends z.ZodObject>(schema: Schema, ...ways: readonly (readonly (string & keyof z.output<Schema>)[])[]): Schema =>
  schema
    .check(({ value, issues }) => {
      const isGiven = (name: string): boolean => (value as Record<string, unknown>)[name] !== undefined;
      const need = (name: string | undefined, message: string): void => void issues.push({ code: 'custom', message, path: [name ?? ''], input: value });
      const [way = [], second] = ways.filter((names) => names.some(isGiven));
      const missing = way.find((name) => !isGiven(name));
      if (way.length === 0) need(ways[0]?.[0], `give ${ways.map(and).join(' or ')}`);
      else if (second !== undefined) need(second.find(isGiven), `give only one of ${ways.map(and).join(' or ')}`);
      else if (missing !== undefined) need(missing, `give ${and(way)} together`);
    })
    .meta({ oneOf: ways.map((required) => ({ required })) });

export type InputSchema = z.ZodObject | z.ZodDiscriminatedUnion<readonly z.ZodObject[]>;

export const fieldsOf = (schema: InputSchema): readonly InputField[] => {
  if (schema instanceof z.ZodObject) return fieldsOfObject(schema);
  const kinds = schema.options.map((option) => ({ option, kind: String((option.shape['kind'] as z.ZodLiteral).value) }));
  const first: InputField = { name: 'kind', title: 'Kind', kind: 'choice', required: true, choices: kinds.map(({ kind }) => kind) };
  const own = kinds.flatMap(({ option, kind }) => fieldsOfObject(option).filter(({ name }) => name !== 'kind').map((field) => ({ ...field, onlyFor: kind })));
  return [first, ...own];
};

const fieldsOfObject = (schema: z.ZodObject): readonly InputField[] => {
  const ways = ((schema.meta()?.['oneOf'] ?? []) as readonly { readonly required: readonly string[] }[]).map(({ required }) => required);
  return Object.entries(schema.shape as Record<string, z.ZodType>).map(([name, field]) => {
    const others = ways.some((names) => names.includes(name)) ? ways.filter((names) => !names.includes(name)).flat() : [];
    return { ...fieldOf(name, field), ...(others.length === 0 ? {} : { insteadOf: others }) };
  });
};

const fieldOf = (name: string, schema: z.ZodType): InputField => {
  if (schema instanceof z.ZodOptional) return { ...fieldOf(name, schema.unwrap() as z.ZodType), required: false };
  if (schema instanceof z.ZodDefault) return { ...fieldOf(name, schema.unwrap() as z.ZodType), required: false, default: schema.def.defaultValue as number | boolean };
  const { title = name, unit, minimum, maximum } = (schema.meta() ?? {}) as { readonly title?: string; readonly unit?: string; readonly minimum?: number; readonly maximum?: number };
  const field = { name, title, required: true, ...(unit === undefined ? {} : { unit }), ...(minimum === undefined ? {} : { low: minimum }), ...(maximum === undefined ? {} : { high: maximum }) };
  if (schema instanceof z.ZodNumber) return { ...field, kind: 'number' };
  if (schema instanceof z.ZodEnum) return { ...field, kind: 'choice', choices: schema.options.map(String) };
  if (schema instanceof z.ZodBoolean) return { ...field, kind: 'yes-no' };
  if (schema instanceof z.ZodArray) return arrayOf(field, schema);
  return { ...field, kind: 'text' };
};

const arrayOf = (field: Omit<InputField, 'kind'>, schema: z.ZodArray): InputField => {
  const { maxItems: most } = schema.meta() as { readonly maxItems: number };
  const sized = { ...field, most };
  const element = schema.element as z.ZodType;
  if (element instanceof z.ZodObject) return { ...sized, kind: 'rows', rows: [...fieldsOfObject(element)] };
  const { unit, low, high } = fieldOf(field.name, element);
  return { ...sized, kind: 'numbers', ...(unit === undefined ? {} : { unit }), ...(low === undefined ? {} : { low }), ...(high === undefined ? {} : { high }) };
};

export type ValidRanges = Readonly<Record<string, ValidRange>>;

const rangeOf = ({ low, high, unit = '' }: InputField): ValidRange | null => (low === undefined || high === undefined ? null : { low, high, unit });

export const rangesOf = (fields: readonly InputField[], prefix = ''): ValidRanges =>
  Object.assign({}, ...fields.map((field): ValidRanges => {
    if (field.rows !== undefined) return rangesOf(field.rows, `${prefix}${field.name}.`);
    const range = rangeOf(field);
    return range === null ? {} : { [prefix + field.name]: range };
  })) as ValidRanges;

/** The first number that leaves its range, named by its path (`parts.3.hours`), or null. */
export const findOutsideField = (fields: readonly InputField[], given: Readonly<Record<string, unknown>>, prefix = ''): { readonly ok: false; readonly error: OutsideValidRange } | null => {
  for (const field of fields) {
    const path = prefix + field.name;
    const value = given[field.name];
    const range = rangeOf(field);
    const each = Array.isArray(value) ? (value as unknown[]).map((one, i) => [`${path}.${i}`, one] as const) : [[path, value] as const];
    for (const [at, one] of each) {
      const outside = field.rows !== undefined && typeof one === 'object' ? findOutsideField(field.rows, one as Record<string, unknown>, `${at}.`)
        : range !== null && typeof one === 'number' ? findOutside({ [at]: one }, { [at]: range }) : null;
      if (outside !== null) return outside;
    }
  }
  return null;
};
