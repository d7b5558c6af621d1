import { useState } from 'preact/hooks';
import { pastMoment } from '../format/time.ts';
import { failureWords } from '../parts/forms/form-frame.ts';
import { InspectionFrame } from '../parts/inspection/inspection-frame.tsx';
import { ReadinessList } from '../parts/inspection/readiness-list.tsx';
import { useScreen } from '../parts/screen.ts';
import { useLoaded } from '../parts/use-loaded.ts';

/** What is open before an inspector comes, and reviews of the records. */
export const ReadinessView = () => {
  const { call, clock, wall } = useScreen();
  const { value, failure, load } = useLoaded<'readiness'>(() => call('readiness'));
  const zone = wall.wall.value?.site.zone ?? 'UTC';
  return (
    <InspectionFrame title="Readiness for inspection" failure={failure} loaded={value !== null}>
      {value !== null && (
        <>
          <p class="sum">{value.words}</p>
          <p class="dim">This list is no approval. Your authority and a process authority decide.</p>
          <ReadinessList readiness={value} />
          <section aria-labelledby="reviews">
            <h2 id="reviews">Reviews</h2>
            <ReviewForm onDone={load} />
            {value.reviews.length === 0 ? (
              <p>Nobody has reviewed the records yet.</p>
            ) : (
              <ul class="quiet-list">
                {value.reviews.map(({ lot, until, name, at }) => (
                  <li key={`${at} ${String(until)}`}>
                    {name} reviewed {lot === null ? 'all lots' : `lot ${lot}`} up to entry {until}, {pastMoment(Date.parse(at), clock.now.peek(), zone)}
                  </li>
                ))}
              </ul>
            )}
          </section>
        </>
      )}
    </InspectionFrame>
  );
};

/** A review is an act: somebody read the records, and says so with a name. */
const ReviewForm = ({ onDone }: { readonly onDone: () => Promise<void> }) => {
  const { call, session } = useScreen();
  const [name, setName] = useState(session.session.value?.user?.name ?? '');
  const [problem, setProblem] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);
  const save = async (): Promise<void> => {
    setBusy(true);
    const answer = await call('review', { body: { lot: null, name: name.trim() } });
    setBusy(false);
    setProblem(answer.ok ? null : failureWords(answer.error));
    if (answer.ok) await onDone();
  };
  return (
    <form
      class="review-line"
      onSubmit={(event) => {
        event.preventDefault();
        void save();
      }}
    >
      {problem !== null && <p class="problem" role="alert">{problem}</p>}
      <label class="field">
        I have read the records up to now. Name
        <input type="text" required maxLength={80} value={name} onInput={(event) => setName(event.currentTarget.value)} />
      </label>
      <button type="submit" class="main-act" disabled={busy || name.trim() === ''}>
        Write down the review
      </button>
    </form>
  );
};
