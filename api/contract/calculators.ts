import { z } from 'zod';

/** What is told about the calculators, apart from the calculators themselves: a page that works nothing out need not load them. */
export const calculatorNames = [
  'brine-strength', 'hydrometer', 'brine-mix', 'salt-by-cup', 'salt-equilibrium', 'ph-buffer', 'ph-electrode', 'ph-from-mv',
  'mean-kinetic-temperature', 'degree-hours', 'pasteurisation', 'leaching', 'cure-regression', 'acid-dose', 'drum-warming',
  'maturity-index', 'yield', 'sensor', 'recipe-check',
] as const;
export type CalculatorName = (typeof calculatorNames)[number];

/** Both ends belong to it. */
export const validRange = z.object({ low: z.number(), high: z.number(), unit: z.string() });
export const validRanges = z.record(z.string(), validRange).meta({ description: 'by input field; `parts.hours` is the field of each row' });

const column = z.object({
  name: z.string(),
  title: z.string(),
  kind: z.enum(['number', 'numbers', 'choice', 'yes-no', 'text', 'rows']),
  required: z.boolean(),
  unit: z.string().optional(),
  low: z.number().optional(),
  high: z.number().optional(),
  choices: z.array(z.string()).optional(),
  default: z.union([z.number(), z.boolean()]).optional().meta({ description: 'assumed when left out' }),
  insteadOf: z.array(z.string()).optional().meta({ description: 'given in place of these fields, never with them' }),
  onlyFor: z.string().optional().meta({ description: 'belongs to this choice of `kind` only' }),
});
export const inputField = column.extend({ most: z.number().optional(), rows: z.array(column).optional() });
/** One input as a form draws it and the range check reads it. */
export type InputField = z.infer<typeof inputField>;

export const calculatorList = z.object({
  calculators: z.array(z.object({ name: z.enum(calculatorNames), title: z.string(), purpose: z.string(), inputs: z.array(inputField), source: z.string(), validRange: validRanges })),
});

/** What stands beside the numbers of every answer. */
export const beside = z.object({
  source: z.string(),
  validRange: validRanges,
  assumed: z.array(z.string()).optional().meta({ description: 'inputs that were not given, and other defaults that were used' }),
  caution: z.string().optional().meta({ description: 'what to mind where it can hurt somebody; local rules decide' }),
});
export type Beside = z.infer<typeof beside>;
