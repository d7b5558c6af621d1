import { useCallback, useEffect, useState } from 'preact/hooks';
import { recallPaperPath, type RecallExercise, type Trace } from '#contract';
import { newKey } from '../../client/browser.ts';
import { clockTime, dayMonth } from '../../format/time.ts';
import { failureWords } from '../forms/form-frame.ts';
import { useScreen } from '../screen.ts';

/** A recall played through: begun, looked for on the shelf, written down with its time, printed. */
export const Exercise = ({ of, zone }: { readonly of: Trace['of']; readonly zone: string }) => {
  const { call, clock } = useScreen();
  const [past, setPast] = useState<readonly RecallExercise[]>([]);
  const [startedAt, setStartedAt] = useState<number | null>(null);
  const [gaps, setGaps] = useState('');
  const [action, setAction] = useState('');
  const [problem, setProblem] = useState<string | null>(null);
  const [key] = useState(newKey);
  const load = useCallback(async (): Promise<void> => {
    const answer = await call('recallExercises');
    if (answer.ok) setPast(answer.value.exercises);
  }, [call]);
  useEffect(() => void load(), [load]);
  const write = async (): Promise<void> => {
    const told = { ...(gaps.trim() !== '' && { gaps: gaps.trim() }), ...(action.trim() !== '' && { action: action.trim() }) };
    const answer = await call('exerciseRecall', { body: { ...(of.kind === 'lot' ? { lot: of.id } : { ingredient: of.id }), startedAt: new Date(startedAt ?? clock.now.peek()).toISOString(), ...told }, key });
    setProblem(answer.ok ? null : failureWords(answer.error));
    if (!answer.ok) return;
    setStartedAt(null);
    await load();
  };
  return (
    <section class="exercise" aria-labelledby="exercise">
      <h2 id="exercise">Play a recall through</h2>
      {startedAt === null ? (
        <>
          <p>Nothing is called back and nobody is told. You look for every jar as if it were, and keep the time.</p>
          <button type="button" class="main-act" onClick={() => setStartedAt(clock.now.peek())}>
            Begin the exercise
          </button>
        </>
      ) : (
        <div class="act-form">
          <p>
            Begun at <b>{clockTime(startedAt, zone)}</b>. Count the jars on the shelf, and find how to reach each buyer above.
          </p>
          <label class="field">
            What was found wanting
            <textarea maxLength={1_000} value={gaps} onInput={(event) => setGaps(event.currentTarget.value)} />
          </label>
          <label class="field">
            What is done about it
            <textarea maxLength={1_000} value={action} onInput={(event) => setAction(event.currentTarget.value)} />
          </label>
          <button type="button" class="main-act large" onClick={() => void write()}>
            Everything is found: write it down
          </button>
          <button type="button" class="quiet" onClick={() => setStartedAt(null)}>
            Stop, write nothing
          </button>
        </div>
      )}
      {problem !== null && (
        <p class="problem" role="alert">
          {problem}
        </p>
      )}
      {past.length > 0 && (
        <ul class="exercise-list">
          {past.map(({ number, of: what, endedAt, minutes, result }) => (
            <li key={number}>
              <a href={`/api${recallPaperPath(number)}`} target="_blank" rel="noopener">
                Exercise {number}
              </a>
              {`, ${dayMonth(Date.parse(endedAt), zone)}: ${what.kind} ${what.id}, ${String(result.located)} of ${String(result.filled)} jars located in ${String(minutes)} minutes`}
            </li>
          ))}
        </ul>
      )}
    </section>
  );
};
