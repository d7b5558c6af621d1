import { useState } from 'preact/hooks';
import { dispositionWords, type Deviation } from '#contract';
import { daySpan, pastMoment } from '../format/time.ts';
import { Dialog } from '../parts/forms/dialog.tsx';
import { failureWords } from '../parts/forms/form-frame.ts';
import { Go } from '../parts/go.tsx';
import { CloseForm } from '../parts/inspection/close-form.tsx';
import { InspectionFrame } from '../parts/inspection/inspection-frame.tsx';
import { useScreen } from '../parts/screen.ts';
import { useLoaded } from '../parts/use-loaded.ts';
import { deviationFacts, deviationTitle } from '../state/inspection-words.ts';

type Doing = { readonly what: 'close' | 'action'; readonly deviation: Deviation };

/** The log of departures from critical limits: open ones first, each with what was done and how it ended. */
export const DeviationsView = () => {
  const { call } = useScreen();
  const { value, failure, load } = useLoaded<'deviations'>(() => call('deviations', {}));
  const [doing, setDoing] = useState<Doing | null>(null);
  const done = (): void => {
    setDoing(null);
    void load();
  };
  const all = value?.deviations ?? [];
  const groups = [
    { id: 'open', title: 'Open', some: all.filter(({ closed }) => closed === null) },
    { id: 'closed', title: 'Closed', some: all.filter(({ closed }) => closed !== null) },
  ];
  return (
    <InspectionFrame title="Deviations" failure={failure} loaded={value !== null}>
      <p class="dim">Each time outside a critical limit has its own number. While one is open its lot is not released and no jar of it leaves.</p>
      {all.length === 0 && <p class="sum">No critical limit was broken so far.</p>}
      {groups.map(({ id, title, some }) =>
        some.length === 0 ? null : (
          <section key={id} aria-labelledby={`deviations-${id}`}>
            <h2 id={`deviations-${id}`}>{title}</h2>
            <ul>
              {some.map((deviation) => (
                <DeviationRow key={deviation.number} deviation={deviation} onDo={(what) => setDoing({ what, deviation })} />
              ))}
            </ul>
          </section>
        ),
      )}
      {doing !== null && (
        <Dialog title={doing.what === 'close' ? `How ${doing.deviation.number} ended` : `Done about ${doing.deviation.number}`} aside={`lot ${doing.deviation.lot}`} onClose={() => setDoing(null)}>
          {doing.what === 'close' ? <CloseForm deviation={doing.deviation} onDone={done} /> : <ActionForm deviation={doing.deviation} onDone={done} />}
        </Dialog>
      )}
    </InspectionFrame>
  );
};

const DeviationRow = ({ deviation, onDo }: { readonly deviation: Deviation; readonly onDo: (what: Doing['what']) => void }) => {
  const { clock, session, settings, wall } = useScreen();
  const zone = wall.wall.value?.site.zone ?? 'UTC';
  const { number, lot, from, to, bound, actions, closed } = deviation;
  return (
    <li class="deviation">
      <b>{number}</b>
      <div class="deviation-facts">
        <h3>
          {deviationTitle(deviation)}, <Go to={{ view: 'batch', lot }}>lot {lot}</Go>
        </h3>
        <p>
          {deviationFacts(deviation, settings.units.value)} <span class="dim">({bound.source})</span>
        </p>
        <p>{to === null ? `Since ${pastMoment(Date.parse(from), clock.now.peek(), zone)}, still outside` : daySpan(Date.parse(from), Date.parse(to), zone)}</p>
        {actions.length > 0 && <p>Done: {actions.map(({ text, by }) => `${text} (${by})`).join('; ')}</p>}
        {closed !== null && (
          <p>
            <span class="state">Closed: {dispositionWords[closed.disposition]}.</span> Cause: {closed.cause}. Action: {closed.action}. {closed.name}, {pastMoment(Date.parse(closed.at), clock.now.peek(), zone)}
          </p>
        )}
      </div>
      <div class="deviation-acts">
        {closed === null && session.mayWork.value && (
          <button type="button" class="quiet" onClick={() => onDo('action')}>
            Something was done
          </button>
        )}
        {session.isOwner.value && (
          <button type="button" class={closed === null ? 'main-act' : 'quiet'} onClick={() => onDo('close')}>
            {closed === null ? 'Close it' : 'Close it otherwise'}
          </button>
        )}
      </div>
    </li>
  );
};

const ActionForm = ({ deviation, onDone }: { readonly deviation: Deviation; readonly onDone: () => void }) => {
  const { call } = useScreen();
  const [text, setText] = useState('');
  const [problem, setProblem] = useState<string | null>(null);
  const save = async (): Promise<void> => {
    const answer = await call('deviationAction', { params: { number: deviation.number }, body: { text: text.trim() } });
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
      {problem !== null && <p class="problem" role="alert">{problem}</p>}
      <label class="field">
        What was done
        <input type="text" required maxLength={500} value={text} onInput={(event) => setText(event.currentTarget.value)} />
      </label>
      <button type="submit" class="main-act large" disabled={text.trim() === ''}>
        Write it down
      </button>
    </form>
  );
};
