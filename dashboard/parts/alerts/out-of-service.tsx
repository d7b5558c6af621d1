import { useState } from 'preact/hooks';
import { pastMoment } from '../../format/time.ts';
import type { AlertScreen } from '../../state/alert-screen.ts';
import { ruleWords } from '../../state/alert-words.ts';
import { byWhom } from '../../state/story-words.ts';
import { useScreen } from '../screen.ts';

/** Limits that nobody is told of now: too easily forgotten to be out of sight. */
export const OutOfServiceList = ({ model, zone, nameOf }: { readonly model: AlertScreen; readonly zone: string; readonly nameOf: (drum: string) => string }) => {
  const { clock, session } = useScreen();
  const [problem, setProblem] = useState<string | null>(null);
  const list = model.outOfService.value;
  if (list.length === 0) return null;
  return (
    <section aria-labelledby="out-of-service">
      <h2 id="out-of-service">Not judged now</h2>
      <ul class="aside-list">
        {list.map(({ drum, limit, reason, by, since }) => (
          <li key={`${drum} ${limit}`}>
            <p>
              <b>
                {nameOf(drum)}: {ruleWords(limit)}
              </b>
              <br />
              {reason}, {byWhom(by)} since {pastMoment(Date.parse(since), clock.now.value, zone)}
            </p>
            {session.isOwner.value && (
              <button type="button" onClick={() => void model.judgeAgain(drum, limit).then((failure) => setProblem(failure === null ? null : `${failure.title}. ${failure.detail}`))}>
                Judge it again
              </button>
            )}
          </li>
        ))}
      </ul>
      {problem !== null && <p role="alert">{problem}</p>}
    </section>
  );
};
