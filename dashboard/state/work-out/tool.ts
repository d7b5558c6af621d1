import type { CalculatorAnswer, CalculatorInput, CalculatorName, DrumFlag, LoadedCalculators, Result } from '#contract';
import type { UnitChoice } from '../../format/units.ts';
import type { Field, Values } from './field.ts';
import type { Picture } from './picture.ts';

export const groups = ['Brine', 'pH and acid', 'Probes', 'Cure', 'Jars and harvest'] as const;
export type Group = (typeof groups)[number];

/** One number of an answer, large enough to read beside a bucket. */
export interface Big {
  readonly label: string;
  readonly text: string;
  readonly unit: string;
  readonly note?: string;
  readonly flag?: { readonly state: DrumFlag; readonly word: string };
}

export interface Answer {
  readonly bigs: readonly Big[];
  /** Two numbers that are easily taken for each other. */
  readonly pair?: readonly [Big, Big];
  readonly sentence?: string;
  readonly lines: readonly { readonly label: string; readonly text: string }[];
  readonly picture?: Picture;
  readonly recipe?: CheckedRecipe;
  readonly beside: readonly Beside[];
}

/** A recipe line by line, its brines on one ruler and the rules it touches. */
export type CheckedRecipe = CalculatorAnswer<'recipe-check'>;

/** What a calculator says beside its numbers. */
export interface Beside {
  readonly source: string;
  readonly assumed?: readonly string[] | undefined;
  readonly caution?: string | undefined;
}

export interface Refusal {
  readonly field: string;
  /** Where it names its field there is `fieldMark`, for the screen to put its own name there. */
  readonly message: string;
}

export const fieldMark = '{field}';

/** The values as a question reads them: checked, and assumed where nothing was given. */
export interface Given {
  /** Asked for or assumed: there is always one. */
  readonly number: (name: string) => number;
  /** Only what was really given. */
  readonly own: (name: string) => number | undefined;
  readonly choice: (name: string) => string;
  readonly rows: (name: string) => readonly (readonly number[])[];
}

/** The loaded calculators and the reader's units. */
export interface Bench extends Pick<LoadedCalculators, 'calculators' | 'estimateTimeConstantHours'> {
  readonly units: UnitChoice;
}

export interface Tool {
  readonly id: string;
  readonly group: Group;
  readonly question: string;
  readonly about: string;
  /** Whose ranges the fields have. */
  readonly calculator: CalculatorName;
  readonly fields: (values: Values) => readonly Field[];
  readonly find: (given: Given, bench: Bench) => Result<Answer, Refusal>;
  /** Where one choice makes other figures mean something else. */
  readonly adjust?: (before: Values, after: Values, bench: Bench) => Values;
}

/** Asks a calculator; the field of a refusal is renamed where the screen asks for it under another name. */
export const ask = <Name extends CalculatorName>({ calculators }: Bench, name: Name, input: CalculatorInput<Name>, names: Readonly<Record<string, string>> = {}): Result<CalculatorAnswer<Name>, Refusal> => {
  const worked = calculators[name].work(input);
  if (worked.ok) return worked as Result<CalculatorAnswer<Name>, Refusal>;
  const { error } = worked;
  const issue = error.code === 'does-not-fit' ? error.error.issues[0] : undefined;
  const field = error.code === 'does-not-fit' ? (issue?.path.join('.') ?? '') : error.field;
  const message = error.code === 'does-not-fit' ? (issue?.message ?? 'does not fit') : error.message;
  return { ok: false, error: { field: names[field] ?? field, message: field !== '' && message.startsWith(field) ? fieldMark + message.slice(field.length) : message } };
};
