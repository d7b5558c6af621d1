import { useState } from 'preact/hooks';
import { acts, type NewEntry, type StoryEntry } from '#contract';
import { storyWords } from '../../state/story-words.ts';
import type { Outcome } from '../../state/queue.ts';
import { isActForm } from '../../state/task-act.ts';
import { Problem } from '../problem.tsx';
import { useScreen } from '../screen.ts';
import { ActForm } from './act-form.tsx';
import { Dialog } from './dialog.tsx';
import { failureWords, type AboutDrum, type Act } from './form-frame.ts';

interface CorrectDialogProps {
  readonly entry: StoryEntry;
  readonly zone: string;
  readonly about: AboutDrum;
  readonly write: (entry: NewEntry) => Promise<Outcome>;
  readonly onClose: () => void;
}

const reasons = ['typed wrongly', 'wrong drum', 'measured again', 'it was not done'];

/** The act as the contract knows it, or null where this page has no form for its kind. */
const actOf = (entry: StoryEntry): Act | null => {
  if (!isActForm(entry.kind)) return null;
  // The lot of a part was given once and stays.
  const { lot: _, into: _part, ...body } = entry.body;
  const parsed = acts[entry.kind].safeParse({ ...body, kind: entry.kind, at: entry.at });
  return parsed.success ? parsed.data : null;
};

/** A mistake is mended by a later entry: the old one stays, struck through. */
export const CorrectDialog = ({ entry, zone, about, write, onClose }: CorrectDialogProps) => {
  const { settings } = useScreen();
  const [reason, setReason] = useState(reasons[0] ?? '');
  const [problem, setProblem] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);
  const before = actOf(entry);
  const words = storyWords(entry, settings.units.value);

  const correct = async (replacement: Act | null): Promise<void> => {
    setBusy(true);
    const answer = await write({ kind: 'corrected', entry: entry.sequence, reason: reason.trim() === '' ? 'no reason given' : reason.trim(), replacement });
    setBusy(false);
    if (answer.state === 'refused') setProblem(failureWords(answer.failure));
    else onClose();
  };

  return (
    <Dialog title="Correct" aside={`${words.title}: ${words.detail}`} onClose={onClose}>
      <p class="dim">The old entry stays in the story, struck through; this one stands in its place.</p>
      <label class="field">
        Why
        <input type="text" list="reasons" maxLength={500} value={reason} onInput={(event) => setReason(event.currentTarget.value)} />
        <datalist id="reasons">
          {reasons.map((known) => (
            <option key={known}>{known}</option>
          ))}
        </datalist>
      </label>
      <button type="button" class="quiet large" disabled={busy} onClick={() => void correct(null)}>
        Take it back: it did not happen
      </button>
      {before !== null && isActForm(entry.kind) && (
        <>
          <h3>Or write it anew</h3>
          <ActForm form={entry.kind} zone={zone} before={before} about={about} saveWords="Write it anew" busy={busy} onSave={(act) => void correct(act)} />
        </>
      )}
      {problem !== null && <Problem words={problem} />}
    </Dialog>
  );
};
