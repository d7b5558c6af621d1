import { useEffect, useMemo, useState } from 'preact/hooks';
import { howToCheckPath } from '#contract';
import { failureWords } from '../parts/forms/form-frame.ts';
import { Go } from '../parts/go.tsx';
import { LotTrace } from '../parts/records/lot-trace.tsx';
import { Papers } from '../parts/records/papers.tsx';
import { PlaceFlag } from '../parts/records/place-flag.tsx';
import { RecordFront } from '../parts/records/record-front.tsx';
import { useScreen } from '../parts/screen.ts';
import { createInspect } from '../state/inspect.ts';
import { lotDates, lotFruit, moment } from '../state/record-words.ts';
import '../parts/forms/forms.css';
import './inspect.css';

/** For somebody outside with a phone at a stall: a code, the lots it opens, page one of each, and its papers. */
export const InspectView = ({ lot }: { readonly lot: string | null }) => {
  const { call, session, go } = useScreen();
  const model = useMemo(() => createInspect(call, session), [call, session]);
  const role = session.session.value?.user?.role ?? null;
  useEffect(() => {
    document.title = 'Records to read · Brineward';
    const code = decodeURIComponent(location.hash.slice(1));
    // What opens the door does not stay in the address, where somebody else may read it.
    if (code !== '') go({ view: 'inspect', lot }, 'replace');
    void model.begin(code);
  }, [model, go, lot]);

  const failure = model.failure.value;
  const list = model.list.value;
  if (model.asking.value) return <CodeForm problem={failure === null ? null : failureWords(failure)} onOpen={model.open} />;
  if (list === null) return <p class="waiting">One moment …</p>;
  const { fingerprint, lots, now, reader, site, until, zone } = list;
  const chosen = lot === null ? null : (lots.find((each) => each.lot === lot) ?? null);
  return (
    <div class="inspect">
      <header>
        <p>
          <b>{site}</b>
        </p>
        <p class="dim">
          For {reader}
          {until !== null && `, to ${moment(until, Date.parse(now), zone)}`}
        </p>
      </header>
      {chosen === null ? (
        <main>
          <h1>Records of {lots.length === 1 ? 'one lot' : `${String(lots.length)} lots`}</h1>
          {lot !== null && <p class="problem">{lot} is not among the lots you may read.</p>}
          <ul class="inspect-lots">
            {lots.map((each) => (
              <li key={each.lot}>
                <Go to={{ view: 'inspect', lot: each.lot }}>{each.lot}</Go>
                <p>{lotFruit(each)}</p>
                <p class="dim">{lotDates(each, zone)}</p>
                <PlaceFlag lot={each} zone={zone} />
              </li>
            ))}
          </ul>
        </main>
      ) : (
        <main>
          <Go class="back" to={{ view: 'inspect', lot: null }}>
            ‹ All lots
          </Go>
          <h1>Lot {chosen.lot}</h1>
          <Papers lot={chosen.lot} inside={false} />
          <RecordFront key={chosen.lot} lot={chosen.lot} />
          <LotTrace key={`trace ${chosen.lot}`} lot={chosen.lot} />
        </main>
      )}
      <footer>
        <p>Key of the site</p>
        <p class="fingerprint">{fingerprint ?? 'none yet'}</p>
        <p>Compare it with the wall display of the shed, a label, or an earlier paper. A record that is signed with another key was not made here.</p>
        <p>
          <a href={`/api${howToCheckPath}`}>How to check a record with tools of your own</a>
        </p>
        {role === 'inspector' ? (
          <button
            type="button"
            class="quiet"
            onClick={() => {
              go({ view: 'inspect', lot: null }, 'replace');
              void model.leave();
            }}
          >
            Leave
          </button>
        ) : (
          <Go class="quiet" to={{ view: 'records' }}>
            Back to all records
          </Go>
        )}
      </footer>
    </div>
  );
};

const CodeForm = ({ problem, onOpen }: { readonly problem: string | null; readonly onOpen: (code: string) => Promise<void> }) => {
  const [code, setCode] = useState('');
  const [busy, setBusy] = useState(false);
  return (
    <main class="inspect code">
      <p class="door-name">Brineward</p>
      <form
        class="act-form"
        onSubmit={(event) => {
          event.preventDefault();
          setBusy(true);
          void onOpen(code).finally(() => setBusy(false));
        }}
      >
        <h1>Records to read</h1>
        <label class="field">
          The code you were given
          <input class="code-field" type="text" name="code" required maxLength={20} autocomplete="off" autocapitalize="characters" spellcheck={false} value={code} onInput={({ currentTarget }) => setCode(currentTarget.value)} />
          <span class="hint">Eight letters and digits. It has no 0, O, 1, I or L.</span>
        </label>
        {problem !== null && (
          <p class="problem" role="alert">
            {problem}
          </p>
        )}
        <button type="submit" class="main-act large" disabled={busy || code.trim() === ''}>
          Open
        </button>
        <p class="dim">What you look at is written down in the journal of the shed.</p>
      </form>
    </main>
  );
};
