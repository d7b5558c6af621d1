import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import type { LoadedCalculators } from '#contract';
import { evaluate } from '../../state/work-out/evaluate.ts';
import type { Field, Value } from '../../state/work-out/field.ts';
import { completed, inputsOf, valuesOf } from '../../state/work-out/link.ts';
import type { Tool } from '../../state/work-out/tool.ts';
import { CopyLine } from '../copy-line.tsx';
import { useScreen } from '../screen.ts';
import { AnswerDetails, BigAnswer } from './answer.tsx';
import { Fields } from './fields.tsx';
import { RecipeLines } from './recipe.tsx';

/** Nothing counted yet is no example. */
const isEmpty = (fields: readonly Field[]): boolean => fields.every(({ kind }) => kind === 'counts');

const noFaults = new Map<string, string>();
/** Long enough that the address is not rewritten at every press. */
const quietMs = 300;

/** One question: what it asks, and its answer as soon as the figures allow one. Worked out in the browser, so it goes on without a connection. */
export const ToolScreen = ({ tool, inputs, loaded }: { readonly tool: Tool; readonly inputs: string; readonly loaded: LoadedCalculators }) => {
  const { settings, go } = useScreen();
  const units = settings.units.value;
  const [values, setValues] = useState(() => valuesOf(tool, inputs));
  const [example, setExample] = useState(inputs === '');
  const written = useRef(inputs);
  const { calculators, estimateTimeConstantHours } = loaded;
  const bench = useMemo(() => ({ calculators, estimateTimeConstantHours, units }), [calculators, estimateTimeConstantHours, units]);
  const fields = tool.fields(values);
  const shown = useMemo(() => evaluate(tool, values, bench), [tool, values, bench]);
  const address = inputsOf(fields, values);

  useEffect(() => {
    // Back and forward bring other figures under the same question.
    if (inputs === written.current) return;
    written.current = inputs;
    setValues(valuesOf(tool, inputs));
  }, [tool, inputs]);

  useEffect(() => {
    if (example || address === written.current) return undefined;
    const timer = setTimeout(() => {
      written.current = address;
      go({ view: 'work-out', tool: tool.id, inputs: address }, 'replace');
    }, quietMs);
    return () => clearTimeout(timer);
  }, [example, address, tool, go]);

  const change = (name: string, value: Value): void => {
    setExample(false);
    setValues((before) => {
      const after = completed(tool, { ...before, [name]: value });
      return tool.adjust === undefined ? after : tool.adjust(before, after, bench);
    });
  };

  return (
    <div class="tool">
      {example && !isEmpty(fields) && <p class="example">Example figures so far: put in your own.</p>}
      <Fields tool={tool} values={values} calculators={calculators} units={units} faults={shown.kind === 'faults' ? shown.faults : noFaults} onChange={change}>
        {shown.kind === 'answer' && shown.answer.recipe !== undefined && <RecipeLines lines={shown.answer.recipe.lines} />}
      </Fields>
      <BigAnswer shown={shown} />
      <div class="beside">
        <AnswerDetails shown={shown} tool={tool} fields={fields} calculators={calculators} units={units} />
        <details class="share">
          <summary>Link to these figures</summary>
          <CopyLine label="Link" line={`${location.origin}/work-out/${tool.id}?${address}`} />
        </details>
      </div>
    </div>
  );
};
