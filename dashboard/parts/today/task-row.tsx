import type { Task } from '#contract';
import { inWords, showMass, showVolume, type UnitChoice } from '../../format/units.ts';
import { taskWords } from '../../state/next.ts';
import { isWaterTask } from '../../state/today.ts';
import { DueMark } from '../mark.tsx';

interface TaskRowProps {
  readonly task: Task;
  readonly now: number;
  readonly zone: string;
  readonly units: UnitChoice;
  /** Its act was done and is kept at this phone. */
  readonly kept: boolean;
  readonly mayWork: boolean;
  readonly onOpen: (task: Task) => void;
}

/** One thing to do: what, with how much, since when, and what it costs to leave it. One touch opens it. */
export const TaskRow = ({ task, now, zone, units, kept, mayWork, onOpen }: TaskRowProps) => {
  const { mark, detail } = taskWords({ ...task, needs: {} }, { now, zone, units });
  const { brineL, saltG, jars } = task.needs;
  const what = [brineL === undefined ? '' : inWords(showVolume(brineL, units)), saltG === undefined ? '' : `${inWords(showMass(saltG, units))} salt`, jars === undefined ? '' : `about ${String(jars)} jars`].filter((part) => part !== '').join(' · ');
  const words = (
    <>
      <span class="task-title">
        <span>
          {!kept && <DueMark />}
          {task.title}
        </span>
        {what !== '' && <b>{what}</b>}
      </span>
      <span class={mark === 'late' ? 'task-when late' : 'task-when'}>{kept ? 'done, kept here until there is signal' : detail}</span>
      {!kept && <span class="task-cost">{task.kind === 'settle-hold' ? task.text : isWaterTask(task) ? (task.late?.hygiene?.text ?? 'Plain water: this is hygiene, a limit and not a date.') : (task.late?.text ?? '')}</span>}
    </>
  );
  if (kept || !mayWork) {
    return (
      <div class="task-row" data-kept={kept ? 'yes' : 'no'}>
        {words}
      </div>
    );
  }
  return (
    <button type="button" class="task-row" data-late={task.overdue ? 'yes' : 'no'} onClick={() => onOpen(task)}>
      {words}
    </button>
  );
};
