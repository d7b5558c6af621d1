import { useState } from 'preact/hooks';
import type { Recall } from '#contract';
import { dayMonth, pastMoment } from '../../format/time.ts';
import { failureWords } from '../forms/form-frame.ts';
import { useScreen } from '../screen.ts';

/** A lot called back, too large to be missed: why, and every place its jars went. */
export const RecallBoard = ({ recall, now, zone }: { readonly recall: Recall; readonly now: number; readonly zone: string }) => {
  const { lot, reason, at, by, lots, filled, left, out } = recall;
  const gone = out.reduce((sum, { jars }) => sum + jars, 0);
  return (
    <section class="hold-board recall-board" aria-labelledby="recall-title">
      <h2 id="recall-title">
        <svg viewBox="0 0 24 24" aria-hidden="true">
          <path d="M6.5 2.500h11L23 12l-5.500 9.500h-11L1 12z" fill="currentColor" />
          <path d="M6.500 12h11" class="bar" />
        </svg>
        Called back
      </h2>
      <p>
        <b>{reason}</b> <span>{pastMoment(Date.parse(at), now, zone)} by {by}</span>
      </p>
      <p>
        No jar of {lots.length > 1 ? `lots ${lots.join(', ')}` : `lot ${lot}`} may leave. {left < 0 ? 'More jars went out than were filled: one entry is wrong.' : `${String(left)} of ${String(filled)} jars should be here: put them apart.`}
      </p>
      <h3>Where its jars went</h3>
      {out.length === 0 ? (
        <p>No jar was written as given away. Ask everybody who sells here.</p>
      ) : (
        <>
          <p>{gone} jars went out. Tell each of these, and ask your authority what else must be done.</p>
          <table class="recall-table">
            <thead>
              <tr>
                <th scope="col">Jars</th>
                <th scope="col">To</th>
                <th scope="col">When</th>
                {lots.length > 1 && <th scope="col">Lot</th>}
              </tr>
            </thead>
            <tbody>
              {out.map((each) => (
                <tr key={each.entry}>
                  <td>
                    <b>{each.jars}</b>
                  </td>
                  <td>{each.to}</td>
                  <td>{dayMonth(Date.parse(each.at), zone)}</td>
                  {lots.length > 1 && <td>{each.lot}</td>}
                </tr>
              ))}
            </tbody>
          </table>
        </>
      )}
    </section>
  );
};

/** The owner calls a lot back: why. */
export const RecallForm = ({ lot, onDone }: { readonly lot: string; readonly onDone: () => void }) => {
  const { call } = useScreen();
  const [reason, setReason] = useState('');
  const [problem, setProblem] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);
  const save = async (): Promise<void> => {
    setBusy(true);
    const answer = await call('recallLot', { params: { lot }, body: { reason: reason.trim() } });
    setBusy(false);
    if (answer.ok) onDone();
    else setProblem(failureWords(answer.error));
  };
  return (
    <form
      class="act-form"
      onSubmit={(event) => {
        event.preventDefault();
        void save();
      }}
    >
      {problem !== null && (
        <p class="problem" role="alert">
          {problem}
        </p>
      )}
      <p class="caution">From now on no jar of {lot}, nor of what was split from it, may leave. It stays in the record and is not taken back. Nobody is told by this screen: you tell the buyers, and your authority.</p>
      <label class="field">
        Why it is called back
        <input type="text" required maxLength={500} value={reason} onInput={(event) => setReason(event.currentTarget.value)} />
      </label>
      <button type="submit" class="main-act large" disabled={busy || reason.trim() === ''}>
        Call {lot} back
      </button>
    </form>
  );
};
