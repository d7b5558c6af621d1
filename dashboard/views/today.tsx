import { useComputed } from '@preact/signals';
import { useEffect, useState } from 'preact/hooks';
import type { Task } from '#contract';
import { Go } from '../parts/go.tsx';
import { KeptNote } from '../parts/kept-note.tsx';
import { LostBanner } from '../parts/lost.tsx';
import { Notice } from '../parts/notice.tsx';
import { Places } from '../parts/places.tsx';
import { QuestionCard } from '../parts/question-card.tsx';
import { useScreen } from '../parts/screen.ts';
import { SettingsButton } from '../parts/settings.tsx';
import { SignCard } from '../parts/sign-card.tsx';
import { CarryWords } from '../parts/today/day-head.tsx';
import { LaterList } from '../parts/today/later-list.tsx';
import { TaskRow } from '../parts/today/task-row.tsx';
import { TaskSheet } from '../parts/today/task-sheet.tsx';
import { UndoBar } from '../parts/undo.tsx';
import { useWritten } from '../parts/use-written.ts';
import { longDay } from '../format/time.ts';
import { batchWords } from '../state/batch-words.ts';
import { dayPlan } from '../state/today.ts';
import { troubleOf } from '../state/trouble.ts';
import '../parts/forms/forms.css';
import './today.css';

/** What needs doing today, drum by drum as a person walks the shed; each done in two touches. */
export const TodayView = () => {
  const { clock, link, queue, session, settings, today: model, wall } = useScreen();
  const [open, setOpen] = useState<Task | null>(null);
  const [said, setSaid] = useState<string | null>(null);
  const written = useWritten();
  const minute = useComputed(() => Math.floor(clock.now.value / 60_000) * 60_000).value;

  useEffect(() => {
    document.title = 'Today · Brineward';
    void model.load();
    return link.onRegained(() => void model.load());
  }, [model, link]);

  const shown = wall.wall.value;
  const tasks = model.tasks.value;
  const failure = model.failure.value ?? wall.failure.value;
  if (shown === null || tasks === null) {
    if (failure === null) return <p class="waiting">One moment …</p>;
    return (
      <Notice title={failure.title} urgent>
        {failure.detail}
        <p>
          <button type="button" class="main-act" onClick={() => void Promise.all([model.load(), wall.refresh()])}>
            Try again
          </button>
        </p>
      </Notice>
    );
  }

  const { zone } = shown.site;
  const units = settings.units.value;
  const mayWork = session.mayWork.value;
  const trouble = troubleOf({ connection: link.connection.value, failure: null, health: wall.health.value }, minute, zone);
  const settled = new Set(queue.kept.value.flatMap(({ task, refused }) => (task === null || refused !== null ? [] : [task])));
  const plan = dayPlan(tasks, shown.drums, minute, zone, settled);
  const fruitOf = (id: string): string => {
    const drum = shown.drums.find((each) => each.id === id);
    return drum?.batch == null ? '' : batchWords(drum.batch, zone).fruit;
  };
  const nameOf = (task: Task): string => shown.drums.find(({ id }) => id === task.drum)?.name ?? task.drum;

  return (
    <div class="today">
      {trouble !== null && <LostBanner trouble={trouble} />}
      <header class="top">
        <Places />
      </header>
      <main>
        <header class="day-head">
          <h1>Today</h1>
          <p class="dim">{longDay(minute, zone)}</p>
          <CarryWords carry={plan.carry} units={units} />
          {mayWork && <Go class="round-link" to={{ view: 'round' }}>Walk the round ›</Go>}
          {mayWork && <Go class="type-in-link" to={{ view: 'type-in' }}>Type in a sheet ›</Go>}
        </header>
        <KeptNote />
        {written.sign !== null && <SignCard {...written.sign} onClose={written.readSign} />}
        {written.problem !== null && <p class="problem" role="alert">{written.problem}</p>}
        <p class={said === null ? 'hidden-words' : 'said'} role="status">{said}</p>
        {shown.drums.flatMap(({ questions = [] }) => questions).map((question) => (
          <QuestionCard key={question.id} question={question} onAnswered={() => void wall.refresh()} />
        ))}
        {plan.drums.length === 0 && <NothingDue later={plan.later.length > 0} />}
        <ol class="drum-tasks" aria-label="Due today">
          {plan.drums.map(({ drum, tasks: due }) => (
            <li key={drum.id}>
              <h2>
                <Go to={{ view: 'drum', drum: drum.id }}>{drum.name}</Go> <span class="dim">{fruitOf(drum.id)}</span>
              </h2>
              {due.map((task) => (
                <TaskRow
                  key={task.id} task={task} now={minute} zone={zone} units={units} mayWork={mayWork} kept={settled.has(task.id)}
                  onOpen={(chosen) => {
                    setSaid(null);
                    setOpen(chosen);
                  }}
                />
              ))}
            </li>
          ))}
        </ol>
        <LaterList tasks={plan.later} drums={shown.drums} zone={zone} units={units} />
        <p class="day-foot">
          <SettingsButton />
        </p>
      </main>
      {open !== null && (
        <TaskSheet
          task={open}
          drumName={nameOf(open)}
          zone={zone}
          onAct={(act, outcome) => {
            setOpen(null);
            written.tell({ id: open.drum, name: nameOf(open) }, act, outcome, zone);
            void model.load();
          }}
          onSettled={(words) => {
            setOpen(null);
            setSaid(words);
            void model.load();
          }}
          onClose={() => setOpen(null)}
        />
      )}
      {written.undo !== null && <UndoBar done={written.undo} onGone={written.forgetUndo} onUndo={() => void written.takeBack().then(model.load)} />}
    </div>
  );
};

const NothingDue = ({ later }: { readonly later: boolean }) => (
  <p class="nothing-due">
    <b>Nothing is due today.</b> <span class="dim">{later ? 'What comes next stands below.' : 'A look at every drum does no harm: walk the round.'}</span>
  </p>
);
