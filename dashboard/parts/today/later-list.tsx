import type { Drum, Task } from '#contract';
import { dayMonth, startOfDay, weekdayShort } from '../../format/time.ts';
import type { UnitChoice } from '../../format/units.ts';
import { needsWords } from '../../state/next.ts';

interface LaterListProps {
  readonly tasks: readonly Task[];
  readonly drums: readonly Pick<Drum, 'id' | 'name'>[];
  readonly zone: string;
  readonly units: UnitChoice;
}

/** What the coming week asks for, to be read and not yet done. */
export const LaterList = ({ tasks, drums, zone, units }: LaterListProps) => {
  const days = Map.groupBy(tasks, ({ dueAt }) => startOfDay(Date.parse(dueAt), zone));
  return (
    <section class="later" aria-labelledby="later-title">
      <h2 id="later-title">Later this week</h2>
      {days.size === 0 && <p class="dim">Nothing more in the next seven days.</p>}
      <dl>
        {[...days].map(([day, due]) => (
          <div key={day}>
            <dt>
              {weekdayShort(day, zone)} {dayMonth(day, zone)}
            </dt>
            {due.map((task) => (
              <dd key={task.id}>
                {drums.find(({ id }) => id === task.drum)?.name ?? task.drum}: {task.title.toLowerCase().replace('ph', 'pH')}
                {needsWords(task.needs, units) !== '' && <span class="dim"> · {needsWords(task.needs, units)}</span>}
              </dd>
            ))}
          </div>
        ))}
      </dl>
    </section>
  );
};
