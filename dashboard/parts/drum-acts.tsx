import type { BatchDetail, Drum, Task } from '#contract';
import type { UnitChoice } from '../format/units.ts';
import { taskWords } from '../state/next.ts';
import { formFor, type ActForm } from '../state/task-act.ts';
import { ActGrid } from './act-grid.tsx';
import { DueMark } from './mark.tsx';
import './drum-acts.css';

interface DrumActsProps {
  readonly drum: Drum;
  /** Null while its story could not be fetched: acts are taken all the same. */
  readonly batch: BatchDetail | null;
  readonly now: number;
  readonly zone: string;
  readonly units: UnitChoice;
  readonly onAct: (form: ActForm) => void;
  /** Looked at, covered, no film: one touch. */
  readonly onSeen: () => void;
  readonly onPlace: () => void;
  /** A task that is no act on the fruit: looked at, and done. */
  readonly onFinish: (task: Task) => void;
  readonly onSkip: (task: Task) => void;
}

/** What is due on top, then the acts: two touches each, with wet hands. */
export const DrumActs = ({ drum, batch, now, zone, units, onAct, onSeen, onPlace, onFinish, onSkip }: DrumActsProps) => {
  const { nextTask } = drum;
  const due = nextTask === null ? null : taskWords(nextTask, { now, zone, units });
  const dueForm = nextTask === null ? null : formFor(nextTask);
  return (
    <section class="drum-acts" aria-label="Acts">
      {due !== null && dueForm !== null && (
        <button type="button" class={due.mark === 'none' ? 'due-act later' : 'due-act'} onClick={() => onAct(dueForm)}>
          <span class="due-title">
            <DueMark /> {due.title}
          </span>
          <span>{due.mark === 'none' ? `next: ${due.detail}` : due.detail}</span>
          {nextTask?.late !== undefined && <span class="due-text">{nextTask.late.hygiene?.text ?? nextTask.late.text}</span>}
        </button>
      )}
      {due !== null && dueForm === null && (
        <div class="due-act later">
          <span class="due-title">
            <DueMark /> {due.title}
          </span>
          <span>{due.detail}</span>
          <span class="due-text">{nextTask?.text}</span>
          {nextTask !== null && (
            <button type="button" class="main-act" onClick={() => onFinish(nextTask)}>
              Done
            </button>
          )}
        </div>
      )}
      {drum.batch?.jarredAt === null && (
        <>
          <ActGrid batch={batch} now={now} units={units} onAct={onAct} />
          <button type="button" class="quiet seen" onClick={onSeen}>
            Seen, all well
          </button>
        </>
      )}
      {nextTask !== null && due !== null && due.mark !== 'none' && (
        <button type="button" class="quiet" onClick={() => onSkip(nextTask)}>
          Leave it out, with a reason
        </button>
      )}
      <button type="button" class="quiet" onClick={onPlace}>
        Probes of this drum
      </button>
    </section>
  );
};
