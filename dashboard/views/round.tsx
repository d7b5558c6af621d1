import { useComputed } from '@preact/signals';
import { useEffect, useRef, useState } from 'preact/hooks';
import type { NewEntry } from '#contract';
import { keepAwake } from '../client/wake.ts';
import { mainActs } from '../parts/act-grid.tsx';
import { ActSheet } from '../parts/act-sheet.tsx';
import type { Act } from '../parts/forms/form-frame.ts';
import { KeptNote } from '../parts/kept-note.tsx';
import { Notice } from '../parts/notice.tsx';
import { Go } from '../parts/go.tsx';
import { RoundOver } from '../parts/today/round-over.tsx';
import { RoundStop } from '../parts/today/round-stop.tsx';
import { useScreen } from '../parts/screen.ts';
import { UndoBar } from '../parts/undo.tsx';
import { useAbout } from '../parts/use-about.ts';
import { useKeys } from '../parts/use-keys.ts';
import { useWritten } from '../parts/use-written.ts';
import type { Outcome } from '../state/queue.ts';
import { goTo, startRound, stopOf, withoutSeen, withSeen, type Round } from '../state/round.ts';
import { allWell } from '../state/signs.ts';
import { settles, type ActForm } from '../state/task-act.ts';
import '../parts/flag.css';
import '../parts/forms/forms.css';
import './round.css';

/** A second touch this soon after the first was meant for the drum before. */
const settleMs = 400;

/** A walk past every drum, one screen each: seen and all well in one touch, anything else in two. */
export const RoundView = () => {
  const { clock, queue, session, settings, wall } = useScreen();
  const [round, setRound] = useState<Round | null>(null);
  const [form, setForm] = useState<ActForm | null>(null);
  const [settling, setSettling] = useState(false);
  const [startedAt] = useState(clock.now.peek());
  const head = useRef<HTMLHeadingElement>(null);
  const written = useWritten();
  const minute = useComputed(() => Math.floor(clock.now.value / 60_000) * 60_000).value;
  useEffect(keepAwake, []);

  const shown = wall.wall.value;
  useEffect(() => {
    if (round === null && shown !== null) setRound(startRound(shown.drums));
  }, [round, shown]);
  const id = round === null ? null : stopOf(round);
  const drum = shown?.drums.find((each) => each.id === id) ?? null;
  const about = useAbout(id ?? '');
  const name = drum?.name ?? null;
  useEffect(() => {
    document.title = name === null ? 'Round · Brineward' : `${name} · Round · Brineward`;
    // Whoever listens hears which drum it is.
    head.current?.focus({ preventScroll: true });
  }, [name]);
  useEffect(() => {
    if (!settling) return undefined;
    const timer = setTimeout(() => setSettling(false), settleMs);
    return () => clearTimeout(timer);
  }, [settling]);

  const turn = (change: (before: Round) => Round): void => setRound((before) => (before === null ? before : change(before)));
  const move = (by: number): void => {
    setSettling(true);
    turn((before) => goTo(before, before.at + by));
  };
  const write = (entry: NewEntry): Promise<Outcome> => {
    const task = drum?.nextTask ?? null;
    return queue.submit({ drum: drum?.id ?? '', drumName: drum?.name ?? '', lot: drum?.batch?.lot ?? '', task: task !== null && settles(task, entry) ? task.id : null, what: { kind: 'act', entry } });
  };
  const zone = shown?.site.zone ?? 'UTC';
  const seen = (): void => {
    if (drum === null || settling) return;
    const here = drum;
    const act: Act = { kind: 'observed', at: new Date(clock.now.peek()).toISOString(), sign: allWell };
    turn((before) => withSeen(before, here.id));
    // The walk goes on at once; whether it was sent or kept is told when that is known.
    move(1);
    void write(act).then((outcome) => {
      if (outcome.state === 'refused') turn((before) => withoutSeen(before, here.id));
      written.tell(here, act, outcome, zone);
    });
  };
  useKeys((key, { target }) => {
    if (form !== null || round === null || document.querySelector('dialog[open]') !== null) return false;
    if (key === 'ArrowRight') move(1);
    else if (key === 'ArrowLeft') move(-1);
    else if (drum === null) return false;
    else if (key === 'Enter' && !(target instanceof HTMLElement && target.closest('button, a, summary') !== null)) seen();
    else if (/^[1-6]$/.test(key)) setForm(mainActs[Number(key) - 1]?.form ?? null);
    else return false;
    return true;
  });

  if (!session.mayWork.value) {
    return (
      <Notice title="A round is walked by those who work here">
        <Go to={{ view: 'wall' }}>To the wall</Go>
      </Notice>
    );
  }
  if (shown === null || round === null) {
    return wall.failure.value === null ? <p class="waiting">One moment …</p> : <Notice title={wall.failure.value.title} urgent>{wall.failure.value.detail}</Notice>;
  }
  return (
    <div class="round">
      <header class="round-head">
        <p class="dim">{drum === null ? 'Round' : `Round, ${String(round.at + 1)} of ${String(round.stops.length)}`}</p>
        <Go to={{ view: 'today' }}>End</Go>
      </header>
      <main>
        <KeptNote />
        {written.problem !== null && <p class="problem" role="alert">{written.problem}</p>}
        {drum === null ? (
          <RoundOver round={round} drums={shown.drums} tookMs={clock.now.peek() - startedAt} head={head} onGo={(at) => turn((before) => goTo(before, at))} />
        ) : (
          <RoundStop
            key={drum.id} drum={drum} head={head} batch={about.batch} now={minute} zone={zone} units={settings.units.value} seen={round.seen.includes(drum.id)}
            sign={written.sign} onReadSign={written.readSign} onAct={setForm}
          />
        )}
      </main>
      <footer class="round-foot">
        {written.undo !== null && (
          <UndoBar
            done={written.undo}
            onGone={written.forgetUndo}
            onUndo={() => {
              const of = written.undo?.drum;
              if (of !== undefined) turn((before) => withoutSeen(before, of));
              void written.takeBack();
            }}
          />
        )}
        <button type="button" class="quiet" disabled={round.at === 0} onClick={() => move(-1)} aria-label="Back">
          ‹
        </button>
        {drum !== null && (
          <button type="button" class="main-act" aria-disabled={settling} onClick={seen}>
            Seen, all well
          </button>
        )}
        {drum !== null && (
          <button type="button" class="quiet" aria-disabled={settling} onClick={() => !settling && move(1)}>
            Next ›
          </button>
        )}
      </footer>
      {form !== null && drum !== null && (
        <ActSheet
          form={form}
          drumName={drum.name}
          zone={zone}
          about={about}
          write={write}
          onDone={(act, outcome) => {
            setForm(null);
            turn((before) => withSeen(before, drum.id));
            written.tell(drum, act, outcome, zone);
          }}
          onClose={() => setForm(null)}
        />
      )}
    </div>
  );
};
