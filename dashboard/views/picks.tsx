import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import type { Pick, Result } from '#contract';
import type { Failure } from '../client/call.ts';
import { newKey } from '../client/browser.ts';
import { BatchForm } from '../parts/forms/batch-form.tsx';
import { Dialog } from '../parts/forms/dialog.tsx';
import { ChooseDrum, useEmptyDrums } from '../parts/forms/empty-drums.tsx';
import { failureWords } from '../parts/forms/form-frame.ts';
import { Go } from '../parts/go.tsx';
import { Notice } from '../parts/notice.tsx';
import { CountPad } from '../parts/picks/count-pad.tsx';
import { FactsForm } from '../parts/picks/facts-form.tsx';
import { PickCard, type PickSheet } from '../parts/picks/pick-card.tsx';
import { PickTable } from '../parts/picks/pick-table.tsx';
import { SortedForm } from '../parts/picks/sorted-form.tsx';
import { TakeBackForm } from '../parts/picks/take-back-form.tsx';
import { Places } from '../parts/places.tsx';
import { Problem } from '../parts/problem.tsx';
import { useScreen } from '../parts/screen.ts';
import { SettingsButton } from '../parts/settings.tsx';
import { openPicks } from '../state/pick-words.ts';
import { createPicks } from '../state/picks.ts';
import '../parts/forms/forms.css';
import './picks.css';

const titles: Readonly<Record<PickSheet, string>> = { facts: 'The pick', count: 'Count ripeness', sorted: 'Sorted', start: 'Start a batch', 'take-back': 'No such pick' };

/** The fruit from the tree on: picked, counted, sorted, and put into drums. */
export const PicksView = () => {
  const { call, go, link, session, wall } = useScreen();
  const model = useMemo(() => createPicks(call, newKey), [call]);
  const [open, setOpen] = useState<{ readonly pick: string; readonly sheet: PickSheet } | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);
  const head = useRef<HTMLHeadingElement>(null);
  useEffect(() => {
    document.title = 'Picks · Brineward';
    void model.load();
    return link.onRegained(() => void model.load());
  }, [model, link]);

  const picks = model.picks.value;
  const shown = wall.wall.value;
  const failure = model.failure.value;
  if (picks === null || shown === null) {
    if (failure === null) return <p class="waiting">One moment …</p>;
    return (
      <Notice title={failure.title} urgent>
        {failure.detail} <Go to={{ view: 'wall' }}>To the wall</Go>
      </Notice>
    );
  }
  const { zone } = shown.site;
  const mayWork = session.mayWork.value;
  const drumName = (id: string): string => shown.drums.find((drum) => drum.id === id)?.name ?? id;
  const tell = async (told: Promise<Result<Pick, Failure>>): Promise<Pick | null> => {
    setBusy(true);
    setProblem(null);
    const answer = await told;
    setBusy(false);
    if (!answer.ok) {
      setProblem(failureWords(answer.error));
      return null;
    }
    setOpen(null);
    return answer.value;
  };
  const chosen = open === null ? null : (picks.find(({ pick }) => pick === open.pick) ?? null);
  const show = (pick: string, sheet: PickSheet): void => {
    setProblem(null);
    setOpen({ pick, sheet });
  };
  return (
    <div class="picks">
      <header class="top">
        <Places />
        <div class="top-end">
          <SettingsButton />
        </div>
      </header>
      <main>
        <h1 ref={head} tabIndex={-1}>
          Picks
        </h1>
        {mayWork && (
          <button
            type="button"
            class="main-act large"
            disabled={busy}
            onClick={() =>
              void tell(model.add({})).then((pick) => {
                if (pick !== null) show(pick.pick, 'facts');
              })
            }
          >
            Pick started
            <span class="under">one touch now; the weight when it is known</span>
          </button>
        )}
        {problem !== null && open === null && <p class="problem" role="alert">{problem}</p>}
        {picks.length === 0 && <p class="none-yet">No pick has been written yet. Press the key when the first fruit comes off the tree: the clock from tree to brine starts there.</p>}
        <ul class="pick-list">
          {picks.map((pick) => (
            <PickCard key={pick.pick} pick={pick} zone={zone} drumName={drumName} onOpen={(sheet) => show(pick.pick, sheet)} />
          ))}
        </ul>
        {picks.length > 0 && <PickTable picks={picks} zone={zone} />}
      </main>
      {open !== null && chosen !== null && (
        <Dialog key={`${open.pick} ${open.sheet}`} title={titles[open.sheet]} aside={open.pick} onClose={() => setOpen(null)}>
          {problem !== null && <Problem words={problem} />}
          {open.sheet === 'facts' && <FactsForm pick={chosen} busy={busy} onSave={(told) => void tell(model.amend(open.pick, told))} />}
          {open.sheet === 'count' && <CountPad busy={busy} onSave={(counts) => void tell(model.amend(open.pick, { counts: [...counts] }))} />}
          {open.sheet === 'sorted' && <SortedForm busy={busy} onSave={(told) => void tell(model.sort(open.pick, told))} />}
          {open.sheet === 'take-back' && <TakeBackForm busy={busy} onSave={(reason) => void tell(model.amend(open.pick, { takenBack: reason }))} />}
          {open.sheet === 'start' && <StartBatch pick={chosen} picks={openPicks(picks)} zone={zone} onOpened={(lot) => go({ view: 'batch', lot })} />}
        </Dialog>
      )}
    </div>
  );
};

const StartBatch = ({ pick, picks, zone, onOpened }: { readonly pick: Pick; readonly picks: readonly Pick[]; readonly zone: string; readonly onOpened: (lot: string) => void }) => {
  const { call } = useScreen();
  const drums = useEmptyDrums();
  const [chosen, setChosen] = useState(drums[0]?.id ?? null);
  const drum = drums.find(({ id }) => id === chosen);
  const offered = picks.some((each) => each.pick === pick.pick) ? picks : [pick, ...picks];
  return (
    <>
      <ChooseDrum legend="In which drum" drums={drums} chosen={chosen} onChoose={setChosen} />
      {drum !== undefined && (
        <BatchForm
          key={drum.id}
          drum={drum}
          zone={zone}
          picks={offered}
          from={pick}
          onOpen={async (given) => {
            const answer = await call('openBatch', { body: given });
            if (answer.ok) onOpened(answer.value.lot);
            return answer.ok ? null : answer.error;
          }}
        />
      )}
    </>
  );
};
