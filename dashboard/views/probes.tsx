import { useComputed } from '@preact/signals';
import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import { Dialog } from '../parts/forms/dialog.tsx';
import { Go } from '../parts/go.tsx';
import { Notice } from '../parts/notice.tsx';
import { Places } from '../parts/places.tsx';
import { Arrivals } from '../parts/probes/arrivals.tsx';
import { IceWizard } from '../parts/probes/ice-wizard.tsx';
import { PhWizard } from '../parts/probes/ph-wizard.tsx';
import { PlaceProbe } from '../parts/probes/place-probe.tsx';
import { ProbeCard, type ProbeSheet } from '../parts/probes/probe-card.tsx';
import { ProbePassword } from '../parts/probes/probe-password.tsx';
import { QuestionCard } from '../parts/question-card.tsx';
import { useScreen } from '../parts/screen.ts';
import { SettingsButton } from '../parts/settings.tsx';
import { slugFrom } from '../state/first-steps.ts';
import { inNeedOrder, isAirOnly, isPlaced } from '../state/probes/probe-words.ts';
import { createProbes, type ProbeSeen } from '../state/probes/probes.ts';
import '../parts/forms/forms.css';
import '../parts/reading-chart.css';
import './probes.css';

const valuesEveryMs = 5_000;
const healthEveryMs = 60_000;

const titles: Readonly<Record<ProbeSheet['sheet'], string>> = { place: 'Place a probe', ph: 'Calibrate pH', ice: 'Ice point', password: 'Password' };

/** Everything that measures: seen, placed, checked, calibrated. What needs somebody stands first. */
export const ProbesView = () => {
  const { call, clock, link, session, wall } = useScreen();
  const model = useMemo(() => createProbes(call), [call]);
  const [open, setOpen] = useState<{ readonly probe: string | null; readonly sheet: ProbeSheet } | null>(null);
  const [said, setSaid] = useState('');
  const turn = useComputed(() => Math.floor(clock.now.value / valuesEveryMs)).value;
  const slowTurn = useComputed(() => Math.floor(clock.now.value / healthEveryMs)).value;
  const askedAt = useRef(clock.now.peek());

  useEffect(() => {
    document.title = 'Probes · Brineward';
    return link.onRegained(() => void model.load());
  }, [model, link]);
  useEffect(() => void model.load(), [model, slowTurn]);
  useEffect(() => {
    void model.refresh().then(() => {
      askedAt.current = clock.now.peek();
    });
  }, [model, turn, clock]);

  const probes = model.probes.value;
  const shown = wall.wall.value;
  const failure = model.failure.value;
  if (probes === null || shown === null) {
    if (failure === null) return <p class="waiting">One moment …</p>;
    return (
      <Notice title={failure.title} urgent>
        {failure.detail} <Go to={{ view: 'wall' }}>To the wall</Go>
      </Notice>
    );
  }
  const { zone } = shown.site;
  const drumName = (id: string): string => shown.drums.find((drum) => drum.id === id)?.name ?? id;
  const chosen = open?.probe == null ? null : (probes.find(({ id }) => id === open.probe) ?? null);
  const done = (words: string): void => {
    setOpen(null);
    setSaid(words);
    void model.load();
  };
  const ordered = inNeedOrder(probes);
  const questions = shown.drums.flatMap((drum) => (drum.questions ?? []).filter(({ kind }) => kind === 'probe-in-air'));
  const group = (title: string, some: readonly ProbeSeen[]) =>
    some.length > 0 && (
      <section aria-labelledby={`probes-${slugFrom(title)}`}>
        <h2 id={`probes-${slugFrom(title)}`}>{title}</h2>
        <ul class="probe-cards">
          {some.map((probe) => (
            <ProbeCard key={probe.id} probe={probe} zone={zone} drumName={drumName} sinceAskedMs={Math.max(0, clock.now.peek() - askedAt.current)} onOpen={(sheet) => setOpen({ probe: probe.id, sheet })} />
          ))}
        </ul>
      </section>
    );
  return (
    <div class="probes">
      <header class="top">
        <Places />
        <div class="top-end">
          <SettingsButton />
        </div>
      </header>
      <main>
        <div class="probes-head">
          <h1>Probes</h1>
          {session.mayWork.value && (
            <div class="probes-acts">
              <button type="button" class="quiet" onClick={() => setOpen({ probe: null, sheet: { sheet: 'ph' } })}>
                Calibrate a meter in the hand
              </button>
              <button type="button" class="quiet" onClick={() => setOpen({ probe: null, sheet: { sheet: 'ice' } })}>
                Thermometer in ice
              </button>
              <Go class="quiet link" to={{ view: 'logger-file' }}>
                Take in a logger’s file
              </Go>
            </div>
          )}
        </div>
        <p class="said" role="status">
          {said}
        </p>
        {questions.map((question) => (
          <QuestionCard key={question.id} question={question} onAnswered={() => void wall.refresh()} />
        ))}
        {probes.length === 0 && (
          <p class="none-yet">
            No probe has been heard yet. <Go to={{ view: 'start' }}>The first steps</Go> show the line that sends a reading. Without any probe the shed works as well: type in what thermometer and meter show.
          </p>
        )}
        {group('Not placed', ordered.filter((probe) => !isPlaced(probe) && !isAirOnly(probe)))}
        {group('In the drums', ordered.filter(isPlaced))}
        {group('Air of the shed', ordered.filter((probe) => !isPlaced(probe) && isAirOnly(probe)))}
        <Arrivals turn={slowTurn} />
      </main>
      {open !== null && (open.probe === null || chosen !== null) && (
        <Dialog key={`${open.probe ?? ''} ${open.sheet.sheet}`} title={titles[open.sheet.sheet]} aside={open.probe ?? ''} onClose={() => setOpen(null)}>
          {open.sheet.sheet === 'place' && chosen !== null && <PlaceProbe probe={chosen} channel={open.sheet.channel} probes={probes} drums={shown.drums} zone={zone} onDone={() => done(`${chosen.id}: written down.`)} />}
          {open.sheet.sheet === 'ph' && <PhWizard probe={chosen} zone={zone} onDone={done} />}
          {open.sheet.sheet === 'ice' && <IceWizard probe={chosen} onDone={done} />}
          {open.sheet.sheet === 'password' && chosen !== null && <ProbePassword probe={chosen.id} hasPassword={chosen.hasPassword} onChanged={() => void model.refresh()} />}
        </Dialog>
      )}
    </div>
  );
};
