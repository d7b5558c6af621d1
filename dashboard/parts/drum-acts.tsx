import type { BatchDetail, Drum, Task } from '#contract';
import { ago } from '../format/age.ts';
import type { UnitChoice } from '../format/units.ts';
import { taskWords } from '../state/next.ts';
import { storyWords } from '../state/story-words.ts';
import { formFor, type ActForm } from '../state/task-act.ts';
import { DueMark } from './mark.tsx';
import './drum-acts.css';

interface DrumActsProps {
  readonly drum: Drum;
  readonly batch: BatchDetail;
  readonly now: number;
  readonly zone: string;
  readonly units: UnitChoice;
  readonly onAct: (form: ActForm) => void;
  readonly onPlace: () => void;
  /** A task that is no act on the fruit: looked at, and done. */
  readonly onFinish: (task: Task) => void;
  readonly onSkip: (task: Task) => void;
}

const acts: readonly { readonly form: ActForm; readonly title: string; readonly hint: string }[] = [
  { form: 'brine-changed', title: 'Brine changed', hint: 'brine or water' },
  { form: 'tasted', title: 'Tasted', hint: 'bitterness of ten' },
  { form: 'measured', title: 'Measured', hint: 'pH, salt, temperature' },
  { form: 'observed', title: 'Seen or smelled', hint: 'film, gas, soft …' },
];

/** What is due on top, then the acts: two touches each, with wet hands. */
export const DrumActs = ({ drum, batch, now, zone, units, onAct, onPlace, onFinish, onSkip }: DrumActsProps) => {
  const { nextTask } = drum;
  const due = nextTask === null ? null : taskWords(nextTask, { now, zone, units });
  const dueForm = nextTask === null ? null : formFor(nextTask);
  const last = (form: ActForm): string | null => {
    const entry = batch.entries.filter(({ kind, standing }) => kind === form && standing).toSorted((a, b) => Date.parse(b.at) - Date.parse(a.at))[0];
    return entry === undefined ? null : `${storyWords(entry, units).detail}, ${ago(now - Date.parse(entry.at))}`;
  };
  return (
    <section class="drum-acts" aria-label="Acts">
      {due !== null && dueForm !== null && (
        <button type="button" class={due.mark === 'none' ? 'due-act later' : 'due-act'} onClick={() => onAct(dueForm)}>
          <span class="due-title">
            <DueMark /> {due.title}
          </span>
          <span>{due.mark === 'none' ? `next: ${due.detail}` : due.detail}</span>
          {nextTask !== null && <span class="due-text">{nextTask.text}</span>}
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
      {nextTask !== null && due !== null && due.mark !== 'none' && (
        <button type="button" class="quiet" onClick={() => onSkip(nextTask)}>
          Leave it out, with a reason
        </button>
      )}
      {batch.jarredAt === null && <div class="act-grid">
        {acts.map(({ form, title, hint }) => (
          <button key={form} type="button" onClick={() => onAct(form)}>
            <b>{title}</b>
            <span>{last(form) ?? hint}</span>
          </button>
        ))}
      </div>}
      <button type="button" class="quiet" onClick={onPlace}>
        Probes of this drum
      </button>
    </section>
  );
};
