import { useComputed } from '@preact/signals';
import { useCallback, useEffect, useMemo, useState } from 'preact/hooks';
import type { NewEntry, StoryEntry, Task } from '#contract';
import type { Failure } from '../client/call.ts';
import { AlertCard } from '../parts/alert-card.tsx';
import { DrumActs } from '../parts/drum-acts.tsx';
import { DrumHead } from '../parts/drum-head.tsx';
import { ActForm, formTitles } from '../parts/forms/act-form.tsx';
import { BatchForm } from '../parts/forms/batch-form.tsx';
import { CorrectDialog } from '../parts/forms/correct-dialog.tsx';
import { Dialog } from '../parts/forms/dialog.tsx';
import { failureWords } from '../parts/forms/form-frame.ts';
import { PlaceForm } from '../parts/forms/place-form.tsx';
import { SkipForm } from '../parts/forms/skip-form.tsx';
import { Go } from '../parts/go.tsx';
import { LostBanner } from '../parts/lost.tsx';
import { Notice } from '../parts/notice.tsx';
import { ReadingChart } from '../parts/reading-chart.tsx';
import { useScreen } from '../parts/screen.ts';
import { Story } from '../parts/story.tsx';
import { UndoBar, type Undoable } from '../parts/undo.tsx';
import { clockTime } from '../format/time.ts';
import { inOrder } from '../state/alerts.ts';
import { createDrum } from '../state/drum.ts';
import { storyWords } from '../state/story-words.ts';
import { graveAdvice, isGrave } from '../state/signs.ts';
import { suggestedBrine } from '../state/suggested-brine.ts';
import { troubleOf } from '../state/trouble.ts';
import type { ActForm as Form } from '../state/task-act.ts';
import { isMeasured } from '../state/value.ts';
import '../parts/flag.css';
import '../parts/forms/forms.css';
import './drum.css';

type Open = { readonly sheet: 'act'; readonly form: Form } | { readonly sheet: 'correct'; readonly entry: StoryEntry } | { readonly sheet: 'place' } | { readonly sheet: 'skip'; readonly task: Task };

/** One drum: what it is like, what wants doing, the readings, the story. */
export const DrumView = ({ drum: id }: { readonly drum: string }) => {
  const { call, clock, link, session, settings, wall } = useScreen();
  const model = useMemo(() => createDrum(id, call), [id, call]);
  const [open, setOpen] = useState<Open | null>(null);
  const [undo, setUndo] = useState<Undoable | null>(null);
  const [problem, setProblem] = useState<string | null>(null);
  const [grave, setGrave] = useState(false);
  const [busy, setBusy] = useState(false);
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
  const forgetUndo = useCallback(() => setUndo(null), []);

  const failure = model.failure.value;
  const batch = model.batch.value;
  // A drum whose batch is still on its way is not an empty drum.
  if (drum === null || wall.wall.value === null || (drum.batch !== null && batch === null)) {
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
  const neighbours = [others[place - 1], others[place + 1]] as const;
  const temperature = drum.now.temperature;
  const temperatureC = isMeasured(temperature) && temperature.quality === 'good' ? temperature.value : undefined;
  const suggested = suggestedBrine(drum, batch);

  const write = async (entry: NewEntry): Promise<Awaited<ReturnType<typeof model.write>>> => {
    setBusy(true);
    setProblem(null);
    const answer = await model.write(entry);
    setBusy(false);
    return answer;
  };

  const tell = (failed: Failure | null): void => setProblem(failed === null ? null : failureWords(failed));

  const save = async (entry: NewEntry): Promise<void> => {
    const answer = await write(entry);
    if (!answer.ok) {
      setProblem(failureWords(answer.error));
      return;
    }
    setOpen(null);
    if (answer.entry !== null) {
      const words = storyWords(answer.entry, units);
      setUndo({ sequence: answer.entry.sequence, words: `${words.title}: ${words.detail}, ${clockTime(Date.parse(answer.entry.at), zone)}` });
    }
    setGrave(entry.kind === 'observed' && isGrave(entry.sign));
  };

  return (
    <div class="drum">
      {trouble !== null && <LostBanner trouble={trouble} />}
      <nav class="drum-nav" aria-label="Drums">
        <Go to={{ view: 'wall' }}>‹ Wall</Go>
        {neighbours.map((other, side) => other !== undefined && (
          <Go key={other.id} to={{ view: 'drum', drum: other.id }}>
            {side === 0 ? `‹ ${other.name}` : `${other.name} ›`}
          </Go>
        ))}
      </nav>
      <main>
        <div class="drum-side">
          <DrumHead drum={drum} zone={zone} live={trouble === null} />
          {grave && <p class="problem" role="alert">{graveAdvice}</p>}
          {inOrder(drum.alerts).map((alert) => (
            <AlertCard key={alert.id} alert={alert} current={drum.now[alert.quantity]} zone={zone} units={units} mayWork={mayWork} onAcknowledge={model.acknowledge} />
          ))}
          {batch !== null && mayWork && (
            <DrumActs
              drum={drum}
              batch={batch}
              now={minute}
              zone={zone}
              units={units}
              onAct={(form) => setOpen({ sheet: 'act', form })}
              onPlace={() => setOpen({ sheet: 'place' })}
              onFinish={(task) => void model.finish(task.id).then(tell)}
              onSkip={(task) => setOpen({ sheet: 'skip', task })}
            />
          )}
          {problem !== null && open === null && <p class="problem" role="alert">{problem}</p>}
          {batch === null && mayWork && (
            <button type="button" class="quiet" onClick={() => setOpen({ sheet: 'place' })}>
              Probes of this drum
            </button>
          )}
        </div>
        <div class="drum-main">
          {(batch === null || batch.jarredAt !== null) && mayWork && (
            <details class="open-batch" open={batch === null}>
              <summary>{batch === null ? `Open a batch in ${drum.name}` : 'The drum is free: open the next batch'}</summary>
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
          <ReadingChart drum={drum} batch={batch} zone={zone} turn={model.turn.value + minute} />
          {batch !== null && <Story batch={batch} zone={zone} units={units} mayWork={mayWork} onCorrect={(entry) => setOpen({ sheet: 'correct', entry })} />}
        </div>
      </main>
      {open?.sheet === 'act' && (
        <Dialog title={formTitles[open.form]} aside={drum.name} onClose={() => setOpen(null)}>
          {problem !== null && <p class="problem" role="alert">{problem}</p>}
          <ActForm form={open.form} zone={zone} suggested={suggested} temperatureC={temperatureC} saveWords="Done" busy={busy} onSave={(act) => void save(act)} />
        </Dialog>
      )}
      {open?.sheet === 'correct' && <CorrectDialog entry={open.entry} zone={zone} suggested={suggested} temperatureC={temperatureC} write={write} onClose={() => setOpen(null)} />}
      {open?.sheet === 'place' && (
        <Dialog title="Probes" aside={drum.name} onClose={() => setOpen(null)}>
          <PlaceForm drum={drum} zone={zone} onPlaced={() => void model.load()} />
        </Dialog>
      )}
      {open?.sheet === 'skip' && (
        <Dialog title="Leave it out" aside={drum.name} onClose={() => setOpen(null)}>
          <SkipForm
            task={open.task}
            onSkip={async (reason) => {
              const failed = await model.skip(open.task.id, reason);
              if (failed === null) setOpen(null);
              return failed;
            }}
          />
        </Dialog>
      )}
      {undo !== null && (
        <UndoBar
          done={undo}
          onGone={forgetUndo}
          onUndo={() => {
            setUndo(null);
            void write({ kind: 'corrected', entry: undo.sequence, reason: 'taken back at once', replacement: null }).then((answer) => tell(answer.ok ? null : answer.error));
          }}
        />
      )}
    </div>
  );
};
