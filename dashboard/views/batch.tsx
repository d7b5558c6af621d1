import { useComputed } from '@preact/signals';
import { useEffect, useMemo, useState } from 'preact/hooks';
import type { StoryEntry, Task } from '#contract';
import { ActGrid } from '../parts/act-grid.tsx';
import { ActSheet } from '../parts/act-sheet.tsx';
import { CorrectDialog } from '../parts/forms/correct-dialog.tsx';
import { Dialog } from '../parts/forms/dialog.tsx';
import { failureWords } from '../parts/forms/form-frame.ts';
import { MeterForm } from '../parts/forms/meter-form.tsx';
import { Go } from '../parts/go.tsx';
import { KeptNote } from '../parts/kept-note.tsx';
import { LostBanner } from '../parts/lost.tsx';
import { Holds } from '../parts/lot/holds.tsx';
import { JarGate } from '../parts/lot/jar-gate.tsx';
import { LotHead } from '../parts/lot/lot-head.tsx';
import { JarActs, LotTasks, Stock } from '../parts/lot/lot-parts.tsx';
import { RecallBoard, RecallForm } from '../parts/lot/recall.tsx';
import { Trace } from '../parts/lot/trace.tsx';
import { Notice } from '../parts/notice.tsx';
import { Places } from '../parts/places.tsx';
import { useScreen } from '../parts/screen.ts';
import { SignCard } from '../parts/sign-card.tsx';
import { Story } from '../parts/story.tsx';
import { UndoBar } from '../parts/undo.tsx';
import { aboutDrum } from '../parts/use-about.ts';
import { useLoaded } from '../parts/use-loaded.ts';
import { useWritten } from '../parts/use-written.ts';
import { lastMeter } from '../state/jar-words.ts';
import { createLot } from '../state/lot.ts';
import type { Outcome } from '../state/queue.ts';
import { taskForm, type ActForm, type TaskForm } from '../state/task-act.ts';
import { troubleOf } from '../state/trouble.ts';
import '../parts/flag.css';
import '../parts/forms/forms.css';
import './today.css';
import './batch.css';

type Open = { readonly sheet: 'act'; readonly form: ActForm; readonly quantity?: TaskForm['quantity'] | undefined } | { readonly sheet: 'correct'; readonly entry: StoryEntry } | { readonly sheet: 'meter' | 'recall' };

/** One lot, in its drum or in its jars: where it stands, what holds it, what is due, its jars, its whole story. */
export const BatchView = ({ lot }: { readonly lot: string }) => {
  const { call, clock, link, queue, session, settings, today, wall } = useScreen();
  const model = useMemo(() => createLot(lot, call, queue), [lot, call, queue]);
  const [open, setOpen] = useState<Open | null>(null);
  const [said, setSaid] = useState<string | null>(null);
  const written = useWritten();
  const { value: recalls, load: loadRecalls } = useLoaded<'recalls'>(() => call('recalls'));
  const minute = useComputed(() => Math.floor(clock.now.value / 60_000) * 60_000).value;

  useEffect(() => {
    document.title = `${lot} · Brineward`;
    const load = (): void => {
      void model.load();
      void today.load();
    };
    load();
    const stops = [link.listen(model.take), link.onRegained(load)];
    return () => {
      for (const stop of stops) stop();
    };
  }, [model, link, today, lot]);

  const batch = model.batch.value;
  const stories = batch?.entries.length ?? 0;
  useEffect(() => void loadRecalls(), [loadRecalls, stories]);
  const shown = wall.wall.value;
  const failure = model.failure.value;
  if (batch === null || shown === null) {
    if (failure === null) return <p class="waiting">One moment …</p>;
    return (
      <Notice title={failure.title} urgent>
        {failure.detail} <Go to={{ view: 'lots' }}>To all lots</Go>
      </Notice>
    );
  }

  const { zone } = shown.site;
  const units = settings.units.value;
  const mayWork = session.mayWork.value;
  const trouble = troubleOf({ connection: link.connection.value, failure: null, health: wall.health.value }, minute, zone);
  const row = shown.drums.find(({ id }) => id === batch.drum) ?? null;
  const drumName = row?.name ?? batch.drum;
  const { inDrum } = batch.trace;
  const tasks = (today.tasks.value ?? []).filter((task) => task.lot === batch.lot);
  const about = aboutDrum(row?.batch?.lot === batch.lot ? row : null, batch);
  const recall = (recalls?.recalls ?? []).find(({ lots }) => lots.includes(batch.lot)) ?? null;
  const openForm = (form: ActForm): void => {
    setSaid(null);
    setOpen({ sheet: 'act', form });
  };
  const openTask = (task: Task): void => {
    const asked = taskForm(task);
    if (asked !== null) setOpen({ sheet: 'act', ...asked });
    else void model.settle(task, { kind: 'finish', title: task.title }, drumName).then(tell).then(today.load);
  };
  const tell = (outcome: Outcome): void => written.say(outcome.state === 'refused' ? failureWords(outcome.failure) : null);

  return (
    <div class="batch">
      {trouble !== null && <LostBanner trouble={trouble} />}
      <header class="top">
        <Places />
      </header>
      <main>
        <LotHead batch={batch} row={row} now={minute} zone={zone} />
        <KeptNote />
        {recall !== null && <RecallBoard recall={recall} now={minute} zone={zone} />}
        <Holds holds={batch.holds} now={minute} zone={zone} onRelease={mayWork ? () => openForm('release') : null} />
        {written.sign !== null && <SignCard {...written.sign} onClose={written.readSign} />}
        {written.problem !== null && open === null && <p class="problem" role="alert">{written.problem}</p>}
        <p class={said === null ? 'hidden-words' : 'said'} role="status">{said}</p>
        <div class="batch-columns">
          <div class="batch-side">
            <LotTasks tasks={tasks} now={minute} zone={zone} units={units} mayWork={mayWork} onOpen={openTask} />
            {mayWork && inDrum && <ActGrid batch={batch} now={minute} units={units} onAct={openForm} />}
            {mayWork && <JarActs batch={batch} onAct={openForm} onMeter={() => setOpen({ sheet: 'meter' })} />}
            {session.isOwner.value && batch.jars !== null && recall === null && (
              <button type="button" class="quiet" onClick={() => setOpen({ sheet: 'recall' })}>
                Call the lot back
              </button>
            )}
          </div>
          <div class="batch-main">
            {batch.jars !== null && <JarGate gate={batch.jars.gate} zone={zone} />}
            {batch.jars !== null && <Stock jars={batch.jars} zone={zone} />}
            <Trace batch={batch} zone={zone} drumName={(id) => shown.drums.find((drum) => drum.id === id)?.name ?? id} />
            <Story batch={batch} zone={zone} units={units} mayWork={mayWork} onCorrect={(entry) => setOpen({ sheet: 'correct', entry })} />
          </div>
        </div>
      </main>
      {open?.sheet === 'act' && (
        <ActSheet
          form={open.form}
          quantity={open.quantity}
          drumName={inDrum ? drumName : batch.lot}
          zone={zone}
          about={about}
          write={(entry) => model.write(entry, tasks, drumName)}
          onDone={(act, outcome) => {
            setOpen(null);
            written.tell({ id: batch.drum, name: inDrum ? drumName : batch.lot }, act, outcome, zone);
            void today.load();
          }}
          onClose={() => setOpen(null)}
        />
      )}
      {open?.sheet === 'correct' && <CorrectDialog entry={open.entry} zone={zone} about={about} write={(entry) => model.write(entry, [], drumName)} onClose={() => setOpen(null)} />}
      {open?.sheet === 'recall' && (
        <Dialog title="Call a lot back" aside={batch.lot} onClose={() => setOpen(null)}>
          <RecallForm
            lot={batch.lot}
            onDone={() => {
              setOpen(null);
              void loadRecalls();
              void model.load();
            }}
          />
        </Dialog>
      )}
      {open?.sheet === 'meter' && (
        <Dialog title="Meter in its buffers" onClose={() => setOpen(null)}>
          <MeterForm
            meter={lastMeter(batch)}
            onDone={(words) => {
              setOpen(null);
              setSaid(words);
              void model.load();
            }}
          />
        </Dialog>
      )}
      {written.undo !== null && <UndoBar done={written.undo} onGone={written.forgetUndo} onUndo={() => void written.takeBack().then(model.load)} />}
    </div>
  );
};
