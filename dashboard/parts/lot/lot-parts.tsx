import { dayMs, type BatchDetail, type JarsOfLot, type Task } from '#contract';
import type { UnitChoice } from '../../format/units.ts';
import { dayMonth } from '../../format/time.ts';
import type { ActForm } from '../../state/task-act.ts';
import { Go } from '../go.tsx';
import { TaskRow } from '../today/task-row.tsx';

interface LotTasksProps {
  readonly tasks: readonly Task[];
  readonly now: number;
  readonly zone: string;
  readonly units: UnitChoice;
  readonly mayWork: boolean;
  readonly onOpen: (task: Task) => void;
}

/** What is to be done with this lot, the soonest first. */
export const LotTasks = ({ tasks, onOpen, ...rest }: LotTasksProps) => (
  <section class="lot-tasks" aria-labelledby="lot-tasks">
    <h2 id="lot-tasks">To do</h2>
    {tasks.length === 0 && <p class="dim">Nothing is due for this lot.</p>}
    {tasks.filter((task) => isSoon(task, rest.now)).map((task) => (
      <TaskRow key={task.id} task={task} kept={false} onOpen={onOpen} {...rest} />
    ))}
    {tasks.some((task) => !isSoon(task, rest.now)) && (
      <details>
        <summary>Later</summary>
        {tasks.filter((task) => !isSoon(task, rest.now)).map((task) => (
          <TaskRow key={task.id} task={task} kept={false} onOpen={onOpen} {...rest} />
        ))}
      </details>
    )}
  </section>
);

/** What is months away would push the acts of today off the screen of a phone. */
const isSoon = ({ dueAt }: Task, now: number): boolean => Date.parse(dueAt) - now < soonDays * dayMs;
const soonDays = 14;

interface JarActsProps {
  readonly batch: BatchDetail;
  readonly onAct: (form: ActForm) => void;
  readonly onMeter: () => void;
}

/** What can be written of a lot beside the acts in its drum: filling, measuring and giving away its jars, holding it. */
export const JarActs = ({ batch, onAct, onMeter }: JarActsProps) => {
  const { jars } = batch;
  return (
    <section class="jar-acts" aria-label="Jars and holds">
      <div class="act-grid">
        {jars === null ? (
          <button type="button" onClick={() => onAct('jarred')}>
            <b>Fill jars</b>
            <span>how many, with what</span>
          </button>
        ) : (
          <>
            <button type="button" onClick={() => onAct('jar-ph')}>
              <b>pH of a jar</b>
              <span>flesh and brine blended</span>
            </button>
            <button type="button" onClick={() => onAct('distributed')}>
              <b>Jars left</b>
              <span>{jars.left} are here</span>
            </button>
            <button type="button" onClick={() => onAct('jars-noted')}>
              <b>Jars counted or gone</b>
              <span>broken, tested, came back</span>
            </button>
            <button type="button" onClick={() => onAct('observed')}>
              <b>Seen or smelled</b>
              <span>lid, cloud, leak …</span>
            </button>
            <button type="button" onClick={onMeter}>
              <b>Meter checked</b>
              <span>in its buffers, today</span>
            </button>
          </>
        )}
        <button type="button" onClick={() => onAct('hold')}>
          <b>Hold the lot</b>
          <span>nothing leaves</span>
        </button>
        {(batch.holds.length > 0 || (jars !== null && jars.gate.verdict !== 'inside')) && (
          <button type="button" onClick={() => onAct('release')}>
            <b>Release</b>
            <span>who answers for it</span>
          </button>
        )}
      </div>
      {jars === null && (
        <p>
          <Go class="act-link" to={{ view: 'bench' }}>
            Bench trial: how much acid the jars need ›
          </Go>
        </p>
      )}
    </section>
  );
};

/** How many jars there were, where they went, and what to know of the risk. */
export const Stock = ({ jars, zone }: { readonly jars: JarsOfLot; readonly zone: string }) => (
  <section class="stock" aria-labelledby="stock">
    <h2 id="stock">
      {jars.left < 0 ? `${String(-jars.left)} jars more left than were filled: one entry is wrong` : `${String(jars.left)} of ${String(jars.filled)} jars are here`}
    </h2>
    <p class="dim">{jars.jarMl} mL each</p>
    {jars.distributed.length > 0 && (
      <ul>
        {jars.distributed.map(({ to, jars: count, at }) => (
          <li key={`${at}${to}`}>
            <b>{count}</b> {to} <span class="dim">{dayMonth(Date.parse(at), zone)}</span>
          </li>
        ))}
      </ul>
    )}
    {jars.cautions.map((words) => (
      <p key={words} class="caution">
        {words}
      </p>
    ))}
  </section>
);
