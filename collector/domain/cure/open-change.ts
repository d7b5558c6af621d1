import { isAct, type Batch, type Shed, type StoryAct } from '../journal/shed.ts';
import type { EpochMs } from '../units/time.ts';
import { afterAct, isPlainWater, pouredAtStart, type PouredBrine } from './brine.ts';
import { outcomesOf } from './outcomes.ts';
import { openStep, type Series, type Step } from './schedule.ts';
import { stepsFor, type OwnSchedules } from './own-schedules.ts';
import type { Medium, Steps } from './schedules.ts';
import { stageAt } from './stage.ts';

/** The change of water or brine that is due next, and the schedule it is a step of. */
export interface OpenChange {
  readonly step: Step;
  readonly medium: Medium;
  readonly steps: Steps;
}

/** Null where nothing is changed: kept brine, fruit that waits for its jars, jars. */
export const openChangeOf = (shed: Shed, batch: Batch, now: EpochMs, zone: string): OpenChange | null => {
  const stage = stageAt(batch, now);
  if (stage !== 'soak' && stage !== 'leach') return null;
  const step = openStep(changeSeries(shed.schedules, batch, now), outcomesOf(shed, batch), zone);
  if (step === null) return null;
  const medium: Medium = step.kind === 'change-water' ? 'water' : 'brine';
  const steps = stepsFor(shed.schedules, batch.style, medium);
  return steps === null ? null : { step, medium, steps };
};

/** Changes of water and of brine are one series: what is due next depends on what the last one left in the drum. */
const changeSeries = (schedules: OwnSchedules, batch: Batch, now: EpochMs): Series => {
  const past = batch.acts.filter((act) => act.standing && act.at <= now);
  const brineAfter = new Map<StoryAct | null, PouredBrine>([[null, pouredAtStart(batch)]]);
  let brine = pouredAtStart(batch);
  let lastChange: StoryAct | null = null;
  for (const act of past) {
    brine = afterAct(brine, act, batch);
    if (act.kind === 'brine-changed') lastChange = act;
    // Salt strewn into plain water makes it brine: what is due after the last change follows.
    brineAfter.set(lastChange, brine);
  }
  return {
    lot: batch.lot,
    start: batch.startedAt,
    acts: past.filter(isAct('brine-changed')),
    after: (act) => {
      const medium: Medium = isPlainWater(brineAfter.get(act) ?? brine) ? 'water' : 'brine';
      const steps = stepsFor(schedules, batch.style, medium);
      return steps === null ? null : { kind: `change-${medium}`, steps };
    },
  };
};
