import { useComputed } from '@preact/signals';
import { useEffect, useMemo, useState } from 'preact/hooks';
import type { Alert, StoryEntry, Task } from '#contract';
import { ActSheet } from '../parts/act-sheet.tsx';
import { AlertCard } from '../parts/alert-card.tsx';
import { DrumActs } from '../parts/drum-acts.tsx';
import { DrumHead } from '../parts/drum-head.tsx';
import { BatchForm } from '../parts/forms/batch-form.tsx';
import { CorrectDialog } from '../parts/forms/correct-dialog.tsx';
import { Dialog } from '../parts/forms/dialog.tsx';
import { failureWords, type Act } from '../parts/forms/form-frame.ts';
import { PlaceForm } from '../parts/forms/place-form.tsx';
import { SkipForm } from '../parts/forms/skip-form.tsx';
import { Go } from '../parts/go.tsx';
import { KeptNote } from '../parts/kept-note.tsx';
import { LostBanner } from '../parts/lost.tsx';
import { Holds } from '../parts/lot/holds.tsx';
import { Notice } from '../parts/notice.tsx';
import { Places } from '../parts/places.tsx';
import { QuestionCard } from '../parts/question-card.tsx';
import { ReadingChart } from '../parts/reading-chart.tsx';
import { Outlook } from '../parts/ribbon/outlook.tsx';
import { useScreen } from '../parts/screen.ts';
import { Story } from '../parts/story.tsx';
import { SignCard } from '../parts/sign-card.tsx';
import { UndoBar } from '../parts/undo.tsx';
import { aboutDrum } from '../parts/use-about.ts';
import { useWritten } from '../parts/use-written.ts';
import { inOrder } from '../state/alerts.ts';
import { createDrum } from '../state/drum.ts';
import type { Outcome } from '../state/queue.ts';
import { allWell } from '../state/signs.ts';
import { troubleOf } from '../state/trouble.ts';
import type { ActForm as Form } from '../state/task-act.ts';
import '../parts/flag.css';
import '../parts/forms/forms.css';
import './drum.css';

type Open = { readonly sheet: 'act'; readonly form: Form } | { readonly sheet: 'correct'; readonly entry: StoryEntry } | { readonly sheet: 'place' } | { readonly sheet: 'skip'; readonly task: Task };

/** One drum: what it is like, what wants doing, the readings, the story. */
export const DrumView = ({ drum: id }: { readonly drum: string }) => {
  const { call, clock, link, queue, session, settings, stories, wall } = useScreen();
  const model = useMemo(() => createDrum(id, call, queue, wall.wall.peek()?.drums.find((each) => each.id === id) ?? null), [id, call, queue, wall]);
  const [open, setOpen] = useState<Open | null>(null);
  const [skipProblem, setSkipProblem] = useState<string | null>(null);
  const written = useWritten();
  const minute = useComputed(() => Math.floor(clock.now.value / 60_000) * 60_000).value;

  useEffect(() => {
    void model.load();
    const stops = [link.listen(model.take), link.onRegained(() => void model.load())];
    return () => {
      for (const stop of stops) stop();
    };
  }, [model, link]);

  const drum = model.drum.value;
  useEffect(() => {
    if (drum !== null) document.title = `${drum.name} · Brineward`;
  }, [drum]);

  const failure = model.failure.value;
  const batch = model.batch.value ?? stories.batches.value.get(drum?.batch?.lot ?? '') ?? null;
  // A drum whose batch is still on its way is not an empty drum; where it cannot come, what the wall knew is enough to write by.
  if (drum === null || wall.wall.value === null || (drum.batch !== null && batch === null && failure?.code !== 'unreachable')) {
    if (failure === null) return <p class="waiting">One moment …</p>;
    return (
      <Notice title={failure.title} urgent>
        {failure.detail} <Go to={{ view: 'wall' }}>To the wall</Go>
      </Notice>
    );
  }

  const { zone } = wall.wall.value.site;
  const units = settings.units.value;
  const mayWork = session.mayWork.value;
  const trouble = troubleOf({ connection: link.connection.value, failure: null, health: wall.health.value }, minute, zone);
  const others = wall.wall.value.drums;
  const place = others.findIndex((other) => other.id === id);
  const ribbon = others[place]?.ribbon ?? null;
  const neighbours = [others[place - 1], others[place + 1]] as const;
  const about = aboutDrum(drum, batch);
  const alerts = inOrder(drum.alerts);
  // What only repeats a task or can wait stands under the acts, which are what the thumb is looking for.
  const alertCard = (alert: Alert) => (
    <AlertCard key={alert.id} alert={alert} current={drum.now[alert.quantity]} zone={zone} units={units} mayWork={mayWork} onAcknowledge={model.acknowledge} />
  );
  const tell = (outcome: Outcome): void => written.say(outcome.state === 'refused' ? failureWords(outcome.failure) : null);

  return (
    <div class="drum">
      {trouble !== null && <LostBanner trouble={trouble} />}
      <header class="top">
        <Places />
      </header>
      <main>
        <div class="drum-side">
          <DrumHead drum={drum} zone={zone} live={trouble === null} />
          <KeptNote />
          {batch !== null && <Holds holds={batch.holds} now={minute} zone={zone} onRelease={mayWork ? () => setOpen({ sheet: 'act', form: 'release' }) : null} />}
          {written.sign !== null && <SignCard {...written.sign} onClose={written.readSign} />}
          {(drum.questions ?? []).map((question) => (
            <QuestionCard key={question.id} question={question} onAnswered={() => void model.load()} />
          ))}
          {alerts.filter(({ priority }) => priority !== 'low' && priority !== 'note').map(alertCard)}
          {drum.batch !== null && mayWork && (
            <DrumActs
              drum={drum}
              batch={batch}
              now={minute}
              zone={zone}
              units={units}
              onAct={(form) => setOpen({ sheet: 'act', form })}
              onSeen={() => {
                const act: Act = { kind: 'observed', at: new Date(clock.now.peek()).toISOString(), sign: allWell };
                void model.write(act).then((outcome) => written.tell(drum, act, outcome, zone));
              }}
              onPlace={() => setOpen({ sheet: 'place' })}
              onFinish={(task) => void model.finish(task).then(tell)}
              onSkip={(task) => {
                setSkipProblem(null);
                setOpen({ sheet: 'skip', task });
              }}
            />
          )}
          {alerts.filter(({ priority }) => priority === 'low' || priority === 'note').map(alertCard)}
          {written.problem !== null && open === null && <p class="problem" role="alert">{written.problem}</p>}
          {drum.batch === null && mayWork && (
            <button type="button" class="quiet" onClick={() => setOpen({ sheet: 'place' })}>
              Probes of this drum
            </button>
          )}
        </div>
        <div class="drum-main">
          {(drum.batch === null || drum.batch.jarredAt !== null) && mayWork && (
            <details class="open-batch" open={drum.batch === null}>
              <summary>{drum.batch === null ? `Open a batch in ${drum.name}` : 'The drum is free: open the next batch'}</summary>
              <BatchForm
                drum={drum}
                zone={zone}
                onOpen={async (given) => {
                  const answer = await call('openBatch', { body: given });
                  if (answer.ok) await model.load();
                  return answer.ok ? null : answer.error;
                }}
              />
            </details>
          )}
          {drum.batch !== null && ribbon !== null && <Outlook lot={drum.batch.lot} ribbon={{ ...ribbon, forecast: drum.batch.forecast }} now={minute} zone={zone} units={units} turn={model.turn.value} />}
          <ReadingChart drum={drum} batch={batch} zone={zone} turn={model.turn.value + minute} />
          {batch !== null && <Story batch={batch} zone={zone} units={units} mayWork={mayWork} onCorrect={(entry) => setOpen({ sheet: 'correct', entry })} />}
        </div>
      </main>
      <nav class="neighbours" aria-label="Drums">
        {neighbours.map((other, side) => other !== undefined && (
          <Go key={other.id} to={{ view: 'drum', drum: other.id }}>
            {side === 0 ? `‹ ${other.name}` : `${other.name} ›`}
          </Go>
        ))}
      </nav>
      {open?.sheet === 'act' && (
        <ActSheet
          form={open.form}
          drumName={drum.name}
          zone={zone}
          about={about}
          write={model.write}
          onDone={(act, outcome) => {
            setOpen(null);
            written.tell(drum, act, outcome, zone);
          }}
          onClose={() => setOpen(null)}
        />
      )}
      {open?.sheet === 'correct' && <CorrectDialog entry={open.entry} zone={zone} about={about} write={model.write} onClose={() => setOpen(null)} />}
      {open?.sheet === 'place' && (
        <Dialog title="Probes" aside={drum.name} onClose={() => setOpen(null)}>
          <PlaceForm drum={drum} zone={zone} onPlaced={() => void model.load()} />
        </Dialog>
      )}
      {open?.sheet === 'skip' && (
        <Dialog title="Leave it out" aside={drum.name} onClose={() => setOpen(null)}>
          <SkipForm
            task={open.task}
            busy={false}
            problem={skipProblem}
            onSkip={(reason) => {
              void model.skip(open.task, reason).then((outcome) => {
                if (outcome.state === 'refused') setSkipProblem(failureWords(outcome.failure));
                else setOpen(null);
              });
            }}
          />
        </Dialog>
      )}
      {written.undo !== null && <UndoBar done={written.undo} onGone={written.forgetUndo} onUndo={() => void written.takeBack().then(model.load)} />}
    </div>
  );
};
