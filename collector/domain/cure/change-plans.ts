import { dayMs, type EpochMs } from '../units/time.ts';
import type { BrineChange } from './leaching-course.ts';
import type { OpenChange } from './open-change.ts';
import { changesFrom } from './planned-changes.ts';
import { stepDays } from './schedule.ts';

/**
 * What may be done with the change that is due: made on its day (today, when that is past), a day later, three days later, left out,
 * or made with half the brine. `extra`: where it is not yet due, one made today beside the schedule.
 */
export const changeChoices = ['on-time', 'day-late', 'three-days-late', 'left-out', 'half', 'extra'] as const;
export type ChangeChoice = (typeof changeChoices)[number];

type Plan = readonly BrineChange[];
export type ChangePlans = Readonly<Record<Exclude<ChangeChoice, 'extra'>, Plan>> & { readonly extra: Plan | null };

/** The changes to come by each choice; what follows the change follows it by the steps of the schedule. */
export const changePlans = (open: OpenChange, now: EpochMs): ChangePlans => {
  const base = Math.max(open.step.dueAt, now);
  const onTime = changesFrom(open, base);
  return {
    'on-time': onTime,
    'day-late': changesFrom(open, base + dayMs),
    'three-days-late': changesFrom(open, base + 3 * dayMs),
    'left-out': changesFrom({ ...open, step: { ...open.step, ordinal: open.step.ordinal + 1 } }, afterLeftOut(open, now)),
    half: onTime.map((change, index) => (index === 0 ? { ...change, fraction: 0.5 } : change)),
    extra: open.step.dueAt > now ? [{ at: now, fraction: 1 }, ...onTime] : null,
  };
};

/** A change left out lets the schedule run on from its own day, past today. */
const afterLeftOut = ({ step, steps }: OpenChange, now: EpochMs): EpochMs => {
  const everyMs = stepDays(steps, step.ordinal) * dayMs;
  const missed = Math.max(0, Math.floor((now - step.dueAt) / everyMs));
  return step.dueAt + missed * everyMs + stepDays(steps, step.ordinal + 1) * dayMs;
};
