import { useState } from 'preact/hooks';
import type { Question } from '#contract';
import { inWords, showQuantity, showVolume } from '../format/units.ts';
import { useScreen } from './screen.ts';
import './question-card.css';

/** One thing the readings make us ask, with its two answers. One tap answers; it is never asked again. */
export const QuestionCard = ({ question, onAnswered }: { readonly question: Question; readonly onAnswered: () => void }) => {
  const { call, session, settings } = useScreen();
  const [busy, setBusy] = useState(false);
  const [problem, setProblem] = useState<string | null>(null);
  const units = settings.units.value;
  const answer = (given: 'yes' | 'no'): void => {
    setBusy(true);
    void call('answerQuestion', { params: { id: question.id }, body: { answer: given } }).then((answered) => {
      setBusy(false);
      setProblem(answered.ok ? null : `${answered.error.title}. ${answered.error.detail}`);
      if (answered.ok) onAnswered();
    });
  };
  const { brine } = question;
  return (
    <section class="question-card" aria-label="A question">
      <h2>{question.text}</h2>
      <p>{question.because}</p>
      {brine !== null && (
        <p class="dim">
          Logged as the last one: {inWords(showVolume(brine.brineL, units))} at {inWords(showQuantity(brine.saltGPerL, 'g/L', units))}, at that time. Correct it in the story if it was another.
        </p>
      )}
      {session.mayWork.value && (
        <div class="answers">
          <button type="button" class="main-act" disabled={busy} onClick={() => answer('yes')}>
            {question.yes}
          </button>
          <button type="button" class="quiet" disabled={busy} onClick={() => answer('no')}>
            {question.no}
          </button>
        </div>
      )}
      {problem !== null && <p class="problem" role="alert">{problem}</p>}
    </section>
  );
};
