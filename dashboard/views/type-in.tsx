import { useComputed } from '@preact/signals';
import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import type { Wall } from '#contract';
import { screenStorage } from '../client/browser.ts';
import { longDay, localField, fromLocalField } from '../format/time.ts';
import { failureWords } from '../parts/forms/form-frame.ts';
import { Go } from '../parts/go.tsx';
import { KeptNote } from '../parts/kept-note.tsx';
import { Places } from '../parts/places.tsx';
import { useScreen } from '../parts/screen.ts';
import { SheetDrum } from '../parts/today/sheet-drum.tsx';
import { lastStrength } from '../state/from-story.ts';
import { createSheetStore, emptyDraft, isFilled, sheetStops, taskFor, timeOf, toldBy, withoutBoxes, type Boxes, type Fault, type SheetDraft, type SheetStop, type Told } from '../state/sheet.ts';
import '../parts/forms/forms.css';
import './type-in.css';

/** A sheet filled in at the shed without power: typed in by box number and value, and written with the time that stands on the paper. */
export const TypeInView = () => {
  const { today, wall } = useScreen();
  useEffect(() => {
    document.title = 'Type in a sheet · Brineward';
    void today.load();
  }, [today]);
  const shown = wall.wall.value;
  return shown === null ? <p class="waiting">One moment …</p> : <Sheet shown={shown} />;
};

const Sheet = ({ shown }: { readonly shown: Wall }) => {
  const { clock, queue, session, stories, today } = useScreen();
  const minute = useComputed(() => Math.floor(clock.now.value / 60_000) * 60_000).value;
  const { zone } = shown.site;
  const store = useMemo(() => createSheetStore(screenStorage()), []);
  const [draft, setDraft] = useState<SheetDraft>(() => store.read() ?? emptyDraft(clock.now.peek(), zone));
  const latest = useRef(draft);
  const [busy, setBusy] = useState(false);
  const [asked, setAsked] = useState(false);
  const [said, setSaid] = useState<string | null>(null);
  const [problems, setProblems] = useState<readonly string[]>([]);

  const keep = (next: SheetDraft): void => {
    latest.current = next;
    store.write(next);
    setDraft(next);
  };

  const stops = sheetStops(shown.drums, (lot) => lastStrength(stories.batches.value.get(lot) ?? null, null));
  const todayDate = localField(minute, zone).slice(0, 10);
  const told = toldByAll(stops, draft, zone, minute);
  const acts = told.reduce((sum, { acts: some }) => sum + some.length, 0);
  const faults = told.flatMap(({ faults: some }) => some);

  const write = async (): Promise<void> => {
    setAsked(true);
    setSaid(null);
    setProblems([]);
    if (faults.length > 0 || acts === 0) return;
    setBusy(true);
    // What stays, because it was refused, keeps the time it was read with.
    keep(withTimes(stops, latest.current));
    let [written, waiting] = [0, 0];
    const refused: string[] = [];
    for (const [index, stop] of stops.entries()) {
      for (const { boxes, entry } of told[index]?.acts ?? []) {
        const task = taskFor(today.tasks.value ?? [], stop.lot, entry);
        const outcome = await queue.submit({ drum: stop.drum, drumName: stop.name, lot: stop.lot, task, what: { kind: 'act', entry } });
        if (outcome.state === 'refused') refused.push(`${stop.name}: ${failureWords(outcome.failure)}`);
        else {
          if (outcome.state === 'sent') written += 1;
          else waiting += 1;
          keep(withoutBoxes(latest.current, stop.lot, boxes));
        }
      }
    }
    setBusy(false);
    setAsked(false);
    setProblems(refused);
    setSaid([written === 0 ? '' : `${String(written)} written.`, waiting === 0 ? '' : `${String(waiting)} kept at this phone and sent when there is a connection.`].filter((part) => part !== '').join(' '));
    void today.load();
  };

  const day = fromLocalField(draft.date, zone);
  return (
    <div class="type-in">
      <header class="top">
        <Places />
      </header>
      <main>
        <header class="type-in-head">
          <h1>Type in a sheet</h1>
          <p class="dim">Box number and value, as written on the paper. What you leave empty is not written. It stays on this phone until it is sent.</p>
          <Go class="act-link" to={{ view: 'today' }}>‹ Today</Go>
        </header>
        <KeptNote />
        <label class="field type-in-day">
          <span>Day of the sheet{day === null ? '' : `: ${longDay(day, zone)}`}</span>
          <input type="date" value={draft.date} max={todayDate} onInput={(event) => keep({ ...latest.current, date: event.currentTarget.value })} />
        </label>
        {stops.length === 0 && <p>No fruit is in any drum: there is nothing to type in.</p>}
        {stops.map((stop, index) => (
          <SheetDrum
            key={stop.lot} stop={stop} boxes={draft.drums[stop.lot] ?? {}} told={told[index] ?? { acts: [], faults: [] }} showFaults={asked} timeAbove={timeAbove(stops, draft, index)}
            onChange={(boxes: Boxes) => keep({ ...latest.current, drums: { ...latest.current.drums, [stop.lot]: boxes } })}
          />
        ))}
        {session.mayWork.value && (
          <div class="type-in-foot">
            {asked && faults.length > 0 && (
              <p class="problem" role="alert">
                {faultWords(stops, told)} Nothing was written yet.
              </p>
            )}
            {problems.map((words) => (
              <p key={words} class="problem" role="alert">{words} What was not written stays in its boxes.</p>
            ))}
            <p class={said === null || said === '' ? 'hidden-words' : 'said'} role="status">{said}</p>
            <button type="button" class="main-act large" disabled={busy || acts === 0} onClick={() => void write()}>
              {busy ? 'Writing …' : acts === 0 ? 'Nothing typed yet' : `Write ${acts === 1 ? 'one entry' : `${String(acts)} entries`}`}
            </button>
          </div>
        )}
      </main>
    </div>
  );
};

/** The nearest time written above a drum: on paper people write it once. */
const timeAbove = (stops: readonly SheetStop[], draft: SheetDraft, index: number): string | null =>
  stops.slice(0, index).map(({ lot }) => timeOf(draft.drums[lot]?.time)).findLast((time) => time !== null) ?? null;

const withTimes = (stops: readonly SheetStop[], draft: SheetDraft): SheetDraft => ({
  ...draft,
  drums: Object.fromEntries(
    Object.entries(draft.drums).map(([lot, boxes]) => {
      const time = timeOf(boxes.time) === null ? timeAbove(stops, draft, stops.findIndex((stop) => stop.lot === lot)) : null;
      return [lot, time === null ? boxes : { ...boxes, time }];
    }),
  ),
});

const toldByAll = (stops: readonly SheetStop[], draft: SheetDraft, zone: string, now: number): readonly Told[] =>
  stops.map((stop, index) => {
    const boxes = draft.drums[stop.lot] ?? {};
    return isFilled(boxes) ? toldBy(boxes, stop, { date: draft.date, time: timeAbove(stops, draft, index), zone, now }) : { acts: [], faults: [] };
  });

const faultWords = (stops: readonly SheetStop[], told: readonly Told[]): string =>
  stops.flatMap(({ name }, index) => (told[index]?.faults ?? []).map(({ words, box }: Fault) => `${name}, ${box === 'saltIn' ? 'salt in' : box === 'ph' ? 'pH' : box}: ${words}${words.endsWith('?') ? '' : '.'}`)).join(' ');
