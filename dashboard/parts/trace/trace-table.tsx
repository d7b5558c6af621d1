import type { Trace } from '#contract';
import { kindWords } from '../../state/trace/trace-words.ts';
import { TableRoom } from '../compare/table-room.tsx';

/** Every thread behind the picture. */
export const TraceTable = ({ trace }: { readonly trace: Trace }) => {
  const node = (id: string): string => {
    const found = trace.nodes.find((each) => each.id === id);
    return found === undefined ? id : `${kindWords[found.kind]} ${found.name}`;
  };
  return (
    <details class="trace-table">
      <summary>As a table</summary>
      <TableRoom label="Every thread of the trace">
        <table>
          <thead>
            <tr>
              {['From', 'To', 'What, when'].map((title) => (
                <th key={title} scope="col">
                  {title}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {trace.edges.map(({ from, to, words }) => (
              <tr key={`${from} ${to}`}>
                <th scope="row">{node(from)}</th>
                <td>{node(to)}</td>
                <td>{words}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </TableRoom>
    </details>
  );
};
