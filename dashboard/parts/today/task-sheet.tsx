import { useState } from 'preact/hooks';
import type { Task } from '#contract';
import type { KeptWhat } from '../../state/kept.ts';
import type { Outcome } from '../../state/queue.ts';
import { taskForm } from '../../state/task-act.ts';
import { ActSheet } from '../act-sheet.tsx';
import { Dialog } from '../forms/dialog.tsx';
import { failureWords, type Act } from '../forms/form-frame.ts';
import { Go } from '../go.tsx';
import { SkipForm } from '../forms/skip-form.tsx';
import { Problem } from '../problem.tsx';
import { useAbout } from '../use-about.ts';
import { useScreen } from '../screen.ts';

interface TaskSheetProps {
  readonly task: Task;
  readonly drumName: string;
  readonly zone: string;
  readonly onAct: (act: Act, outcome: Outcome) => void;
  /** Done or left out without an act on the fruit. */
  readonly onSettled: (words: string, outcome: Outcome) => void;
  readonly onClose: () => void;
}

/** The second touch: the task as its act, filled in, or done as it is; or left out, with a reason. */
export const TaskSheet = ({ task, drumName, zone, onAct, onSettled, onClose }: TaskSheetProps) => {
  const { queue } = useScreen();
  const [skipping, setSkipping] = useState(false);
  const [busy, setBusy] = useState(false);
  const [problem, setProblem] = useState<string | null>(null);
  const about = useAbout(task.drum, task);
  const asked = taskForm(task);
  const submit = (what: KeptWhat): Promise<Outcome> => queue.submit({ drum: task.drum, drumName, lot: task.lot, task: task.id, what });
  const settle = async (what: KeptWhat, words: string): Promise<void> => {
    setBusy(true);
    const outcome = await submit(what);
    setBusy(false);
    if (outcome.state === 'refused') setProblem(failureWords(outcome.failure));
    else onSettled(words, outcome);
  };
  const leaveOut = (
    <>
      <button type="button" class="quiet leave-out" onClick={() => setSkipping(true)}>
        Leave it out, with a reason
      </button>
      <p>
        <Go class="act-link" to={{ view: 'batch', lot: task.lot }}>
          The page of lot {task.lot} ›
        </Go>
      </p>
    </>
  );
  if (skipping) {
    return (
      <Dialog key="skip" title="Leave it out" aside={drumName} onClose={onClose}>
        <SkipForm task={task} busy={busy} problem={problem} onSkip={(reason) => void settle({ kind: 'skip', title: task.title, reason }, `${drumName}: ${task.title} left out`)} />
      </Dialog>
    );
  }
  if (asked === null) {
    return (
      <Dialog key="done" title={task.title} aside={drumName} onClose={onClose}>
        <div class="act-form">
          <p>{task.text}</p>
          {problem !== null && <Problem words={problem} />}
          <button type="button" class="main-act large" data-first disabled={busy} onClick={() => void settle({ kind: 'finish', title: task.title }, `${drumName}: ${task.title} done`)}>
            Done
          </button>
          {leaveOut}
        </div>
      </Dialog>
    );
  }
  return (
    <ActSheet key="act" form={asked.form} quantity={asked.quantity} title={task.title} drumName={drumName} zone={zone} about={about} write={(entry) => submit({ kind: 'act', entry })} onDone={onAct} onClose={onClose}>
      {leaveOut}
    </ActSheet>
  );
};
