import { useState } from 'preact/hooks';
import type { NewEntry } from '#contract';
import type { Outcome } from '../state/queue.ts';
import type { ActForm as Form } from '../state/task-act.ts';
import { ActForm, formTitles } from './forms/act-form.tsx';
import { Dialog } from './forms/dialog.tsx';
import { failureWords, type AboutDrum, type Act } from './forms/form-frame.ts';
import { Problem } from './problem.tsx';
import type { ComponentChildren } from 'preact';

interface ActSheetProps {
  readonly form: Form;
  readonly title?: string;
  readonly quantity?: 'ph' | 'salinity' | 'temperature' | undefined;
  readonly drumName: string;
  readonly zone: string;
  readonly about: AboutDrum;
  readonly write: (entry: NewEntry) => Promise<Outcome>;
  /** Written, or kept until there is signal. */
  readonly onDone: (act: Act, outcome: Exclude<Outcome, { readonly state: 'refused' }>) => void;
  readonly onClose: () => void;
  readonly children?: ComponentChildren;
}

/** The second of the two touches: the act, filled in as it most likely was. What is refused stays entered, with the reason. */
export const ActSheet = ({ form, title, quantity, drumName, zone, about, write, onDone, onClose, children }: ActSheetProps) => {
  const [problem, setProblem] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);
  const save = async (act: Act): Promise<void> => {
    setBusy(true);
    setProblem(null);
    const outcome = await write(act);
    setBusy(false);
    if (outcome.state === 'refused') setProblem(failureWords(outcome.failure));
    else onDone(act, outcome);
  };
  return (
    <Dialog title={title ?? formTitles[form]} aside={drumName} onClose={onClose}>
      {problem !== null && <Problem words={problem} />}
      <ActForm form={form} zone={zone} about={about} quantity={quantity} saveWords={busy ? 'Sending …' : 'Done'} busy={busy} onSave={(act) => void save(act)} />
      {children}
    </Dialog>
  );
};
