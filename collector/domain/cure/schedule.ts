import type { Lot } from '../journal/entry.ts';
import type { StoryAct, TaskOutcome } from '../journal/shed.ts';
import type { EpochMs } from '../units/time.ts';
import type { Steps, TaskKind } from './schedules.ts';
import { morningHour } from './schedules.ts';
import { localDate } from './stage.ts';

/** 08:00 on a local day, whatever the clocks did that night. */
export const localMorning = (date: Temporal.PlainDate, zone: string): EpochMs =>
  date.toZonedDateTime({ timeZone: zone, plainTime: Temporal.PlainTime.from({ hour: morningHour }) }).epochMilliseconds;

/** Days from the step before to this one (the first is 1). */
export const stepDays = (steps: Steps, ordinal: number): number => {
  const first = steps.afterDays[ordinal - 1];
  if (first !== undefined) return first;
  return steps.thenEveryDays[(ordinal - 1 - steps.afterDays.length) % steps.thenEveryDays.length] ?? 1;
};

/** Something done again and again in a cure: when it starts counting, what settles a step, and what comes after each. */
export interface Series {
  readonly lot: Lot;
  readonly start: EpochMs;
  /** Standing acts that each settle one step, in order of time. */
  readonly acts: readonly StoryAct[];
  /** What is due after an act (null: after the start); null when nothing is. */
  readonly after: (act: StoryAct | null) => { readonly kind: TaskKind; readonly steps: Steps } | null;
}

export interface Step {
  readonly id: string;
  readonly kind: TaskKind;
  readonly ordinal: number;
  readonly dueAt: EpochMs;
}

/** What was done with tasks, as far as it concerns one lot. */
export interface Outcomes {
  readonly of: (id: string) => TaskOutcome | undefined;
  /** The standing act behind a journal entry, following corrections; undefined when it was taken back. */
  readonly standing: (entry: number) => StoryAct | undefined;
  /** True for acts written while settling a task: they settle that one only. */
  readonly claimed: (act: StoryAct) => boolean;
}

export const stepId = (lot: Lot, kind: TaskKind, ordinal: number): string => `${lot}-${kind}-${ordinal}`;

/**
 * The step that is open now. Steps are walked from the start: each is settled by what people did with its task, or by the next act of
 * its kind; the next one counts from that day. A skipped step lets the schedule run on from its own day, past the day of the skip.
 */
export const openStep = (series: Series, outcomes: Outcomes, zone: string): Step | null => {
  const free = series.acts.filter((act) => !outcomes.claimed(act));
  const startDate = localDate(series.start, zone);
  let base = startDate;
  let last: StoryAct | null = null;
  for (let ordinal = 1; ; ordinal += 1) {
    const due = series.after(last);
    if (due === null) return null;
    const { kind, steps } = due;
    const days = stepDays(steps, ordinal);
    const date = laterDate(base.add({ days }), startDate.add({ days: steps.notBeforeDays ?? 0 }));
    const id = stepId(series.lot, kind, ordinal);
    const outcome = outcomes.of(id);
    const settled: StoryAct | undefined = outcome?.kind === 'done' && outcome.entry !== null ? outcomes.standing(outcome.entry) : undefined;
    if (settled !== undefined && series.acts.includes(settled)) {
      last = settled;
      base = localDate(settled.at, zone);
    } else if (outcome?.kind === 'done' && outcome.entry === null) {
      base = localDate(outcome.at, zone);
    } else if (outcome?.kind === 'skipped') {
      base = date;
      const skippedOn = localDate(outcome.at, zone);
      while (Temporal.PlainDate.compare(base.add({ days }), skippedOn) <= 0) base = base.add({ days });
    } else {
      const act = free.shift();
      if (act === undefined) return { id, kind, ordinal, dueAt: localMorning(date, zone) };
      last = act;
      base = localDate(act.at, zone);
    }
  }
};

export const laterDate = (one: Temporal.PlainDate, other: Temporal.PlainDate): Temporal.PlainDate => (Temporal.PlainDate.compare(one, other) >= 0 ? one : other);
