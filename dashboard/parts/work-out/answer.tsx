import type { Calculators } from '#contract';
import { useEffect, useState } from 'preact/hooks';
import type { UnitChoice } from '../../format/units.ts';
import { rangeInWords, rangeOf, type Shown } from '../../state/work-out/evaluate.ts';
import { measureOfField, type Field, type NumberField, type RowsField } from '../../state/work-out/field.ts';
import type { Big, Tool } from '../../state/work-out/tool.ts';
import { Mark } from '../mark.tsx';
import { Plot } from './plot.tsx';
import { Recipe } from './recipe.tsx';
import { Waters } from './waters.tsx';

const BigNumber = ({ big }: { readonly big: Big }) => (
  <div class="big-number" data-state={big.flag?.state}>
    <p class="big-label">{big.label}</p>
    <p class="big-value">
      <b class={big.text.length > 6 ? 'long' : undefined}>{big.text}</b>
      {big.unit !== '' && <span>{big.unit}</span>}
    </p>
    {big.note !== undefined && big.note !== '' && <p class="big-note">{big.note}</p>}
    {big.flag !== undefined && (
      <p class="flag chip" data-state={big.flag.state}>
        <Mark state={big.flag.state} /> {big.flag.word}
      </p>
    )}
  </div>
);

/** The large numbers: on a phone they stay in sight while the keys are pressed. */
export const BigAnswer = ({ shown }: { readonly shown: Shown }) => (
  <section class="big-answer" aria-label="Answer">
    {shown.kind === 'faults' ? (
      <div class="big-number">
        <p class="big-value">
          <b class="old">–</b>
        </p>
        <p class="big-note">{waiting(shown)}</p>
      </div>
    ) : (
      <>
        <div class="big-row">
          {shown.answer.bigs.map((big) => (
            <BigNumber key={big.label} big={big} />
          ))}
        </div>
        {shown.answer.pair !== undefined && (
          <div class="big-row pair-row">
            {shown.answer.pair.map((big) => (
              <BigNumber key={big.label} big={big} />
            ))}
          </div>
        )}
      </>
    )}
    <Spoken words={spoken(shown)} />
  </section>
);

const waiting = ({ faults }: Extract<Shown, { kind: 'faults' }>): string => {
  const [first] = faults.values();
  if (faults.has('')) return faults.get('') ?? '';
  return faults.size === 1 && first !== undefined && !first.startsWith('Too') && !first.startsWith('Put') ? first : 'Nothing is worked out while a figure is missing or outside what is allowed; it is said beside it.';
};

const spoken = (shown: Shown): string => {
  if (shown.kind === 'faults') return [...shown.faults.values()].join(' ');
  const { bigs, pair = [], sentence = '' } = shown.answer;
  const numbers = [...bigs, ...pair].map(({ label, text, unit, flag, note }) => [label, text, unit, note ?? '', flag?.word ?? ''].filter((part) => part !== '').join(' '));
  return `${numbers.join('; ')}. ${sentence}`;
};

/** Said once the pressing stops, not at every press. */
const Spoken = ({ words }: { readonly words: string }) => {
  const [said, setSaid] = useState('');
  useEffect(() => {
    const timer = setTimeout(() => setSaid(words), 700);
    return () => clearTimeout(timer);
  }, [words]);
  return (
    <p class="hidden-words" role="status">
      {said}
    </p>
  );
};

const numbersOf = (fields: readonly Field[]): readonly { readonly column: NumberField; readonly rows?: RowsField; readonly key: string }[] =>
  fields.flatMap((field) => {
    if (field.kind === 'rows') return field.columns.map((column) => ({ column, rows: field, key: `${field.name}.${column.name}` }));
    return field.kind === 'number' ? [{ column: field, key: field.name }] : [];
  });

interface DetailsProps {
  readonly shown: Shown;
  readonly tool: Tool;
  readonly fields: readonly Field[];
  readonly calculators: Calculators;
  readonly units: UnitChoice;
}

/** What belongs beside the numbers: what to mind, the lesser numbers, a picture, where it comes from and how far it goes. */
export const AnswerDetails = ({ shown, tool, fields, calculators, units }: DetailsProps) => (
  <div class="answer-details">
    {shown.kind === 'answer' && (
      <>
        {shown.answer.sentence !== undefined && <p class="answer-sentence">{shown.answer.sentence}</p>}
        {shown.told.cautions.map((caution) => (
          <p key={caution} class="caution">
            {caution}
          </p>
        ))}
        {shown.answer.picture?.kind === 'plot' && <Plot plot={shown.answer.picture} />}
        {shown.answer.picture?.kind === 'waters' && <Waters waters={shown.answer.picture} />}
        {shown.answer.lines.length > 0 && (
          <dl class="answer-lines">
            {shown.answer.lines.map(({ label, text }) => (
              <div key={label}>
                <dt>{label}</dt>
                <dd>{text}</dd>
              </div>
            ))}
          </dl>
        )}
        {shown.answer.recipe !== undefined && <Recipe recipe={shown.answer.recipe} />}
        {shown.told.assumed.length > 0 && (
          <div class="also-assumed">
            <h2>Also assumed</h2>
            <ul>
              {shown.told.assumed.map((words) => (
                <li key={words}>{words}</li>
              ))}
            </ul>
          </div>
        )}
      </>
    )}
    <details class="source">
      <summary>Source and valid range</summary>
      {(shown.kind === 'answer' ? shown.told.sources : [calculators[tool.calculator].source]).map((source) => (
        <p key={source}>{source}</p>
      ))}
      <dl class="answer-lines">
        {numbersOf(fields).map(({ column, rows, key }) => {
          const range = rangeOf(calculators, tool, column, rows);
          return range === null || !Number.isFinite(range.low) ? null : (
            <div key={key}>
              <dt>{column.label}</dt>
              <dd>{rangeInWords(range, measureOfField(column, units))}</dd>
            </div>
          );
        })}
      </dl>
    </details>
  </div>
);
