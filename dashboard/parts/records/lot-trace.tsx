import { useState } from 'preact/hooks';
import type { Trace } from '#contract';
import { failureWords } from '../forms/form-frame.ts';
import { useScreen } from '../screen.ts';

const sides = [
  { side: 'back', words: 'What it came from' },
  { side: 'forward', words: 'What it became, and where it went' },
] as const;

/** Where a lot came from and where it went, as a list: fetched when it is asked for. */
export const LotTrace = ({ lot }: { readonly lot: string }) => {
  const { call } = useScreen();
  const [trace, setTrace] = useState<Trace | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  const load = async (): Promise<void> => {
    const answer = await call('trace', { query: { lot } });
    setProblem(answer.ok ? null : failureWords(answer.error));
    if (answer.ok) setTrace(answer.value);
  };
  if (trace === null) {
    return (
      <div>
        <button type="button" class="quiet" onClick={() => void load()}>
          Trace: where it came from, where it went
        </button>
        {problem !== null && (
          <p class="problem" role="alert">
            {problem}
          </p>
        )}
      </div>
    );
  }
  return (
    <section class="lot-trace" aria-labelledby="lot-trace">
      <h2 id="lot-trace">Trace</h2>
      {sides.map(({ side, words }) => {
        const nodes = trace.nodes.filter((node) => node.side === side);
        return (
          <div key={side}>
            <h3>{words}</h3>
            {nodes.length === 0 && <p class="dim">Nothing is written.</p>}
            <ul>
              {nodes.map((node) => (
                <li key={node.id}>
                  <b>{node.name}</b> {node.lines.join(', ')}
                </li>
              ))}
            </ul>
          </div>
        );
      })}
    </section>
  );
};
