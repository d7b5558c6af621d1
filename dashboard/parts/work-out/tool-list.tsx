import { groups } from '../../state/work-out/tool.ts';
import { tools } from '../../state/work-out/tools.ts';
import { Go } from '../go.tsx';

/** The questions, by job. */
export const ToolList = () => (
  <div class="tool-list">
    {groups.map((group) => (
      <section key={group} aria-label={group}>
        <h2>{group}</h2>
        <ul>
          {tools.filter((tool) => tool.group === group).map(({ id, question, about }) => (
            <li key={id}>
              <Go to={{ view: 'work-out', tool: id, inputs: '' }}>
                <b>{question}</b>
                <span>{about}</span>
              </Go>
            </li>
          ))}
        </ul>
      </section>
    ))}
  </div>
);
