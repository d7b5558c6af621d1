import { useState } from 'preact/hooks';
import { dispositions, dispositionWords, type Deviation, type Disposition } from '#contract';
import { failureWords } from '../forms/form-frame.ts';
import { useScreen } from '../screen.ts';

const starts: readonly Disposition[] = ['no-product-affected', ...dispositions.filter((each) => each !== 'no-product-affected')];

/** Closes a deviation: why it came, what was done, and what becomes of the product. */
export const CloseForm = ({ deviation, onDone }: { readonly deviation: Deviation; readonly onDone: () => void }) => {
  const { call, session } = useScreen();
  const before = deviation.closed;
  const [cause, setCause] = useState(before?.cause ?? '');
  const [action, setAction] = useState(before?.action ?? deviation.actions.map(({ text }) => text).join('; ').slice(0, 500));
  const [prevention, setPrevention] = useState(before?.prevention ?? '');
  const [disposition, setDisposition] = useState<Disposition | null>(before?.disposition ?? null);
  const [evaluation, setEvaluation] = useState(before?.evaluation ?? '');
  const [by, setBy] = useState(before?.name ?? session.session.value?.user?.name ?? '');
  const [problem, setProblem] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);
  const needsEvaluation = disposition === 'released';
  const full = cause.trim() !== '' && action.trim() !== '' && by.trim() !== '' && disposition !== null && (!needsEvaluation || evaluation.trim() !== '');
  const save = async (): Promise<void> => {
    if (disposition === null) return;
    setBusy(true);
    const optional = { ...(prevention.trim() !== '' && { prevention: prevention.trim() }), ...(evaluation.trim() !== '' && { evaluation: evaluation.trim() }) };
    const answer = await call('closeDeviation', { params: { number: deviation.number }, body: { cause: cause.trim(), action: action.trim(), disposition, by: by.trim(), ...optional } });
    setBusy(false);
    if (answer.ok) onDone();
    else setProblem(failureWords(answer.error));
  };
  const line = (words: string, value: string, set: (typed: string) => void, required: boolean) => (
    <label class="field">
      {words}
      <input type="text" required={required} maxLength={500} value={value} onInput={(event) => set(event.currentTarget.value)} />
    </label>
  );
  return (
    <form
      class="act-form"
      onSubmit={(event) => {
        event.preventDefault();
        void save();
      }}
    >
      {problem !== null && <p class="problem" role="alert">{problem}</p>}
      {line('Cause', cause, setCause, true)}
      {line('What was done', action, setAction, true)}
      {line('So that it does not come again', prevention, setPrevention, false)}
      <fieldset class="choice two">
        <legend>The product is</legend>
        {starts.map((each) => (
          <label key={each}>
            <input type="radio" name="disposition" checked={disposition === each} onChange={() => setDisposition(each)} />
            <span>{dispositionWords[each]}</span>
          </label>
        ))}
      </fieldset>
      {line('Who judged the product, with what competence, and what was found', evaluation, setEvaluation, needsEvaluation)}
      {line('Who answers for it', by, setBy, true)}
      <p class="caution">Only a competent person or authority may clear held product. Closing this does not release the lot.</p>
      <button type="submit" class="main-act large" disabled={busy || !full}>
        Close {deviation.number}
      </button>
    </form>
  );
};
