import type { Batch, Shed } from '../journal/shed.ts';
import { dayMs, type EpochMs } from '../units/time.ts';
import type { BrineChange } from './leaching-course.ts';
import { changeSteps } from './schedules.ts';
import { tasksOfBatch } from './tasks.ts';

/** How far ahead changes are planned: past any cure that is still a leach. */
const horizonDays = 400;

/**
 * The brine changes still to come if the schedule is kept from now on: the open change task (an overdue one counts as made now),
 * then the schedule's repeating steps. Whole changes, because nothing else is known of them.
 */
export const plannedChangesOf = (shed: Shed, batch: Batch, now: EpochMs, zone: string): readonly BrineChange[] => {
  const open = tasksOfBatch(shed, batch, now, zone).find(({ kind }) => kind === 'change-brine' || kind === 'change-water');
  if (open === undefined) return [];
  const steps = changeSteps[batch.style][open.kind === 'change-water' ? 'water' : 'brine'];
  const everyDays = steps?.thenEveryDays[0];
  if (everyDays === undefined) return [];
  const first = Math.max(open.dueAt, now);
  const count = Math.floor(horizonDays / everyDays);
  return Array.from({ length: count }, (_empty, index) => ({ at: first + index * everyDays * dayMs, fraction: 1 }));
};
