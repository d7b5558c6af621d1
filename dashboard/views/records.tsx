import { useCallback, useEffect, useMemo, useState } from 'preact/hooks';
import type { RouteAnswer } from '#contract';
import { fetchRecord } from '../client/fetch-record.ts';
import { failureWords } from '../parts/forms/form-frame.ts';
import { Go } from '../parts/go.tsx';
import { Notice } from '../parts/notice.tsx';
import { Places } from '../parts/places.tsx';
import { Accesses } from '../parts/records/accesses.tsx';
import { GiveAccess } from '../parts/records/give-access.tsx';
import { LotRow } from '../parts/records/lot-row.tsx';
import { SealCheck } from '../parts/records/seal-check.tsx';
import { useScreen } from '../parts/screen.ts';
import { SettingsButton } from '../parts/settings.tsx';
import { commonLines, year } from '../state/record-words.ts';
import { createRecords } from '../state/records.ts';
import '../parts/forms/forms.css';
import './records.css';

/** The records of all years: where each lot stands, what is missing, its papers; who outside may read them; whether all is as it was written. */
export const RecordsView = () => {
  const { call, session } = useScreen();
  const model = useMemo(() => createRecords(call, fetchRecord), [call]);
  const [accesses, setAccesses] = useState<RouteAnswer<'inspections'> | null>(null);
  const [giving, setGiving] = useState(false);
  const [problem, setProblem] = useState<string | null>(null);
  const isOwner = session.isOwner.value;
  const loadAccesses = useCallback(async (): Promise<void> => {
    const answer = await call('inspections');
    if (answer.ok) setAccesses(answer.value);
    else setProblem(failureWords(answer.error));
  }, [call]);
  useEffect(() => {
    document.title = 'Records · Brineward';
    void model.load().then(model.lookAtOpen);
    if (!isOwner) return;
    void loadAccesses();
    void model.verify(false);
  }, [model, isOwner, loadAccesses]);

  const list = model.list.value;
  const failure = model.failure.value;
  if (list === null) {
    if (failure === null) return <p class="waiting">One moment …</p>;
    return (
      <Notice title={failure.title} urgent>
        {failure.detail} <Go to={{ view: 'wall' }}>To the wall</Go>
      </Notice>
    );
  }
  const { zone } = list;
  const common = commonLines([...model.lacks.value.values()].flatMap((each) => ('lines' in each ? [each.lines] : [])));
  const now = Date.parse(list.now);
  const revoke = async (id: string): Promise<void> => {
    const answer = await call('revokeInspection', { params: { id } });
    setProblem(answer.ok ? null : failureWords(answer.error));
    await loadAccesses();
  };
  return (
    <div class="records">
      <header class="top">
        <Places />
        <div class="top-end">
          <SettingsButton />
        </div>
      </header>
      <main>
        <div class="records-head">
          <h1>Records</h1>
          {isOwner && (
            <button type="button" class="main-act" disabled={list.lots.length === 0} onClick={() => setGiving(true)}>
              Let an inspector read
            </button>
          )}
        </div>
        <nav class="papers" aria-label="Beside the records">
          <Go to={{ view: 'readiness' }}>What is open before an inspector comes</Go>
          <Go to={{ view: 'deviations' }}>Deviations</Go>
          <Go to={{ view: 'instruments' }}>Instruments</Go>
        </nav>
        {(problem ?? (failure === null ? null : failureWords(failure))) !== null && (
          <p class="problem" role="alert">
            {problem ?? (failure === null ? '' : failureWords(failure))}
          </p>
        )}
        {list.lots.length === 0 && <p>No batch has been opened yet. A lot has a record from its first day.</p>}
        {common.length > 0 && (
          <div class="common">
            <p>Missing in every record looked at</p>
            <ul>
              {common.map((line) => (
                <li key={line}>{line}</li>
              ))}
            </ul>
          </div>
        )}
        {[...Map.groupBy(list.lots, ({ startedAt }) => year(startedAt, zone))].map(([begun, lots]) => (
          <section key={begun} aria-labelledby={`records-${begun}`}>
            <h2 id={`records-${begun}`}>Begun in {begun}</h2>
            <ul>
              {lots.map((lot) => (
                <LotRow key={lot.lot} lot={lot} zone={zone} lacks={model.lacks.value.get(lot.lot)} common={common} onLook={() => void model.look(lot.lot)} />
              ))}
            </ul>
          </section>
        ))}
        <div class="records-foot">
          {isOwner && (
            <section aria-labelledby="records-access">
              <h2 id="records-access">Inspectors</h2>
              <p>Somebody outside reads the records of the lots you choose, for a time, and nothing else.</p>
              {accesses !== null && <Accesses {...accesses} now={now} zone={zone} onRevoke={(id) => void revoke(id)} />}
            </section>
          )}
          <section aria-labelledby="records-seal">
            <h2 id="records-seal">Is everything as it was written?</h2>
            <SealCheck list={list} check={model.check.value} now={now} verify={isOwner ? model.verify : null} />
          </section>
        </div>
      </main>
      {giving && <GiveAccess lots={list.lots} zone={zone} onGiven={() => void loadAccesses()} onClose={() => setGiving(false)} />}
    </div>
  );
};
