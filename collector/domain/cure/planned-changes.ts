import type { Batch, Shed } from '../journal/shed.ts';
import { dayMs, type EpochMs } from '../units/time.ts';
import type { BrineChange } from './leaching-course.ts';
import { openChangeOf, type OpenChange } from './open-change.ts';
import { stepDays } from './schedule.ts';

/** How far ahead changes are planned: past any cure that is still a leach. */
const horizonDays = 400;

/**
 * The brine changes still to come if the schedule is kept from now on: the open change (an overdue one counts as made now), then the
 * steps that follow it. Whole changes, because nothing else is known of them.
 */
export const plannedChangesOf = (shed: Shed, batch: Batch, now: EpochMs, zone: string): readonly BrineChange[] => {
  const open = openChangeOf(shed, batch, now, zone);
  return open === null ? [] : changesFrom(open, Math.max(open.step.dueAt, now));
};

/** The open change made at a time, and those of the schedule after it: a step counts from the one before, early or late. */
export const changesFrom = ({ step, steps }: Pick<OpenChange, 'step' | 'steps'>, first: EpochMs): BrineChange[] => {
  const changes: BrineChange[] = [];
  for (let at = first, ordinal = step.ordinal + 1; at < first + horizonDays * dayMs; ordinal++) {
    changes.push({ at, fraction: 1 });
    at += stepDays(steps, ordinal) * dayMs;
  }
  return changes;
};
