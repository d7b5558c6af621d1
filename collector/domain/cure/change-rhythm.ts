import { isAct, type Batch } from '../journal/shed.ts';
import { dayMs } from '../units/time.ts';
import { plainWaterGPerL } from './brine.ts';
import type { BrineChange } from './leaching-course.ts';
import { stepsFor, type OwnSchedules } from './own-schedules.ts';

/** The brine changes of a batch that stand, oldest first. */
export const changesOf = (batch: Batch): readonly BrineChange[] => batch.acts.filter(isAct('brine-changed')).map(({ at, body }) => ({ at, fraction: body.fraction ?? 1 }));

/**
 * How many days apart this batch's changes would have gone on, had the cure run longer; null: no more.
 * As its last two were, if both poured the same (water, or brine); else as the schedule of its style has it, the site's own where it has
 * one. A batch whose brine was never changed is taken to keep it (assumption).
 */
export const changeRhythmDays = (batch: Batch, own: OwnSchedules = new Map()): number | null => {
  const poured = batch.acts.filter(isAct('brine-changed')).map(({ at, body }) => ({ at, isWater: body.saltGPerL <= plainWaterGPerL }));
  const [last, before] = [poured.at(-1), poured.at(-2)];
  if (last === undefined) return null;
  const apart = before === undefined || before.isWater !== last.isWater ? 0 : (last.at - before.at) / dayMs;
  if (apart >= leastDays) return apart;
  return stepsFor(own, batch.style, last.isWater ? 'water' : 'brine')?.thenEveryDays[0] ?? null;
};

/** Two entries closer than this are one change written twice, or a rinse: no rhythm. */
const leastDays = 0.4;
