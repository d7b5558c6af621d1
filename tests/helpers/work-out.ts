import { loadCalculators, type CalculatorName, type LoadedCalculators } from '#contract';
import { metric, type UnitChoice } from '../../dashboard/format/units.ts';
import { evaluate, type Shown } from '../../dashboard/state/work-out/evaluate.ts';
import { valuesOf } from '../../dashboard/state/work-out/link.ts';
import type { Answer, Bench, Tool } from '../../dashboard/state/work-out/tool.ts';
import { toolOf } from '../../dashboard/state/work-out/tools.ts';

export const loaded = await loadCalculators();

export const imperial: UnitChoice = { temperature: 'F', mass: 'oz', volume: 'gal' };

export const benchOf = (units: UnitChoice = metric): Bench => ({ calculators: loaded.calculators, estimateTimeConstantHours: loaded.estimateTimeConstantHours, units });

export const toolNamed = (id: string): Tool => {
  const tool = toolOf(id);
  if (tool === null) throw new Error(`there is no question ${id}`);
  return tool;
};

/** What the screen shows for a link. */
export const shownFor = (id: string, inputs = '', bench: Bench = benchOf()): Shown => evaluate(toolNamed(id), valuesOf(toolNamed(id), inputs), bench);

export const answerFor = (id: string, inputs = '', bench: Bench = benchOf()): Answer => {
  const shown = shownFor(id, inputs, bench);
  if (shown.kind === 'faults') throw new Error(`${id} says ${[...shown.faults.values()].join(' ')}`);
  return shown.answer;
};

/** Everything of an answer that is read, as one text. */
export const wordsOf = ({ bigs, pair, sentence = '', lines }: Answer): string =>
  [...[...bigs, ...(pair ?? [])].map(({ label, text, unit, note = '', flag }) => `${label} ${text} ${unit} ${note} ${flag?.word ?? ''}`), sentence, ...lines.map(({ label, text }) => `${label} ${text}`)].join('\n').replaceAll('\u00a0', ' ');

export interface Asked {
  readonly name: CalculatorName;
  readonly input: unknown;
  readonly answer: unknown;
}

/** The calculators as they are, with a note of all that was asked of them. */
export const watchedBench = (asked: Asked[], units: UnitChoice = metric): Bench => {
  const watched = Object.fromEntries(
    Object.entries(loaded.calculators).map(([name, calculator]) => [
      name,
      {
        ...calculator,
        work: (input: unknown) => {
          const worked = calculator.work(input);
          asked.push({ name: name as CalculatorName, input, answer: worked.ok ? worked.value : null });
          return worked;
        },
      },
    ]),
  ) as unknown as LoadedCalculators['calculators'];
  return { ...benchOf(units), calculators: watched };
};
