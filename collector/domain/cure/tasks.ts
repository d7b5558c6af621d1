import type { Slug } from '../reading/reading.ts';
import { channels } from '../reading/channel.ts';
import type { Lot } from '../journal/entry.ts';
import { isAct, type Batch, type Shed, type StoryAct } from '../journal/shed.ts';
import { hourMs, type EpochMs } from '../units/time.ts';
import { sweetBitterness } from './batch.ts';
import { brineAt } from './brine.ts';
import { openChangeOf } from './open-change.ts';
import { outcomesOf } from './outcomes.ts';
import { openStep, localMorning, stepId, type Outcomes, type Series, type Step } from './schedule.ts';
import { overdueAfterHours, phSteps, soured, tasteStages, tasteSteps, type TaskKind } from './schedules.ts';
import { localDate, restOver, stageAt } from './stage.ts';
import { needsOf, taskText, taskTitles, type TaskNeeds } from './task-text.ts';

/** Something due. The id is stable (lot, kind, ordinal): it is what people settle. */
export interface Task {
  readonly id: string;
  readonly drum: Slug;
  readonly lot: Lot;
  readonly kind: TaskKind;
  readonly dueAt: EpochMs;
  readonly overdue: boolean;
  readonly title: string;
  readonly text: string;
  readonly needs: TaskNeeds;
}

/** The open task of each kind for every batch, soonest first; those of later days are in it too, with their time. */
export const tasksOf = (shed: Shed, now: EpochMs, zone: string): Task[] =>
  [...shed.batches.values()].flatMap((batch) => tasksOfBatch(shed, batch, now, zone)).sort((one, other) => one.dueAt - other.dueAt || (one.id < other.id ? -1 : 1));

/** What is due first for what is in a drum now. */
export const nextTask = (shed: Shed, drum: Slug, now: EpochMs, zone: string): Task | null => {
  const lot = shed.drums.get(drum)?.lot;
  const batch = lot === undefined || lot === null ? undefined : shed.batches.get(lot);
  if (batch === undefined) return null;
  return tasksOfBatch(shed, batch, now, zone).reduce<Task | null>((first, task) => (first === null || task.dueAt < first.dueAt ? task : first), null);
};

export const tasksOfBatch = (shed: Shed, batch: Batch, now: EpochMs, zone: string): Task[] => {
  const outcomes = outcomesOf(shed, batch);
  const drum = shed.drums.get(batch.drum);
  const brine = brineAt(batch, now);
  const steps = batch.jarredAt === null ? [openChangeOf(shed, batch, now, zone)?.step ?? null, ...seriesOf(shed, batch, now).map((series) => openStep(series, outcomes, zone))] : [reviewStep(batch, batch.jarredAt, outcomes, zone)];
  return steps
    .filter((step) => step !== null)
    .map((step) => {
      const { kind } = step;
      const needs = needsOf(kind, brine);
      return {
        id: step.id,
        drum: batch.drum,
        lot: batch.lot,
        kind,
        dueAt: step.dueAt,
        overdue: now > step.dueAt + overdueAfterHours * hourMs,
        title: taskTitles[kind],
        text: taskText(kind, drum?.name ?? batch.drum, needs),
        needs,
      };
    });
};

const seriesOf = (shed: Shed, batch: Batch, now: EpochMs): Series[] => {
  const stage = stageAt(batch, now);
  const past = batch.acts.filter((act) => act.standing && act.at <= now);
  const series: Series[] = [];
  if (tasteStages.has(stage)) series.push({ lot: batch.lot, start: batch.startedAt, acts: past.filter(isAct('tasted')), after: () => ({ kind: 'taste', steps: tasteSteps }) });
  if (!watchesPh(shed, batch.drum)) {
    const measured = past.filter((act) => isAct('measured')(act) && act.body.quantity === 'ph');
    if (batch.style === 'kept-brine') series.push(phInKeptBrine(batch, measured));
    else if (stage === 'hold') series.push(phWhileWaiting(batch, past, measured));
  }
  return series;
};

const phInKeptBrine = (batch: Batch, measured: readonly StoryAct[]): Series => ({
  lot: batch.lot,
  start: batch.startedAt,
  acts: measured,
  after: (act) => {
    const fallen = act !== null && isAct('measured')(act) && act.body.value + channels.ph.uncertainty <= soured;
    return { kind: 'measure-ph', steps: fallen ? phSteps.fallen : phSteps.falling };
  },
});

const phWhileWaiting = (batch: Batch, past: readonly StoryAct[], measured: readonly StoryAct[]): Series => {
  const sweet = past.filter(isAct('tasted')).find(({ body }) => body.bitterness <= sweetBitterness);
  const start = sweet?.at ?? batch.startedAt;
  return { lot: batch.lot, start, acts: measured.filter(({ at }) => at >= start), after: () => ({ kind: 'measure-ph', steps: phSteps.waiting }) };
};

const watchesPh = (shed: Shed, drum: Slug): boolean => [...shed.placements.values()].some((placements) => placements.at(-1)?.drum === drum && placements.at(-1)?.channel === 'ph');

/** One look at the jars and the record on the first morning after the rest. */
const reviewStep = (batch: Batch, jarredAt: EpochMs, outcomes: Outcomes, zone: string): Step | null => {
  const id = stepId(batch.lot, 'review', 1);
  if (outcomes.of(id) !== undefined) return null;
  const over = restOver(jarredAt);
  const day = localDate(over, zone);
  const morning = localMorning(day, zone);
  return { id, kind: 'review', ordinal: 1, dueAt: morning >= over ? morning : localMorning(day.add({ days: 1 }), zone) };
};
