import type { Trace } from '#contract';
import { kindWords } from '../../state/trace/trace-words.ts';
import { Go } from '../go.tsx';

/** What was chosen in the picture: all that is known of it, and each thread to its neighbours. */
export const ChosenThing = ({ trace, chosen }: { readonly trace: Trace; readonly chosen: string }) => {
  const node = trace.nodes.find(({ id }) => id === chosen);
  if (node === undefined) return null;
  const nameOf = (id: string): string => trace.nodes.find((each) => each.id === id)?.name ?? id;
  const key = node.id.slice(node.id.indexOf(':') + 1);
  const threads = [
    ...trace.edges.filter(({ to }) => to === chosen).map(({ from, words }) => ({ words: 'from', name: nameOf(from), told: words, id: from })),
    ...trace.edges.filter(({ from }) => from === chosen).map(({ to, words }) => ({ words: 'to', name: nameOf(to), told: words, id: to })),
  ];
  const from = node.kind === 'batch' || node.kind === 'jars' ? 'lot' : node.kind === 'ingredient' || node.kind === 'pick' || node.kind === 'probe' ? node.kind : null;
  return (
    <section class="chosen-thing" aria-live="polite" aria-labelledby="chosen-thing">
      <h2 id="chosen-thing">
        {kindWords[node.kind]} {node.name}
      </h2>
      {node.lines.length > 0 && <p>{node.lines.join(', ')}</p>}
      <ul>
        {threads.map(({ words, name, told, id }) => (
          <li key={`${words} ${id}`}>
            {words} <b>{name}</b>: {told}
          </li>
        ))}
      </ul>
      <p class="ways">
        {(node.kind === 'batch' || node.kind === 'jars') && <Go to={{ view: 'batch', lot: key }}>Open lot {key}</Go>}
        {node.id !== trace.start && from !== null && key !== trace.of.id && <Go to={{ view: 'trace', of: { kind: from, id: key } }}>Trace from here</Go>}
      </p>
    </section>
  );
};
