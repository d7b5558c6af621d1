import type { Task as TaskShape } from '#contract';
import type { NextTasting } from '#domain/cure/next-tasting.ts';
import { tasksOf, type ReadyFrom, type Task, type Tastings } from '#domain/cure/tasks.ts';
import { hygieneOf } from '#domain/rules/hygiene.ts';
import { toRfc3339, type EpochMs } from '#domain/units/time.ts';
import type { Forecasts } from './forecasts.ts';
import { taskShape } from './shape.ts';
import type { ShedModel } from './shed-model.ts';

/** Tasks as they are shown: with what a late change costs, and, in water and weak brine, how long it may stand. */
export const tasksNow = async (model: ShedModel, forecasts: Forecasts): Promise<TaskShape[]> => {
  const ahead = await lookAhead(model, forecasts);
  return Promise.all(openTasks(model, ahead).map((task) => taskView(model, forecasts, task)));
};

/** What tasks that look ahead rest on: when lots may be sweet at the earliest, and on which day a taste teaches most. */
export interface Ahead {
  readonly readyFrom: ReadyFrom;
  readonly tastings: Tastings;
}

export const openTasks = (model: ShedModel, { readyFrom, tastings }: Ahead): Task[] => tasksOf(model.shed(), model.clock.now(), model.zone, readyFrom, tastings);

export const lookAhead = async (model: ShedModel, forecasts: Forecasts): Promise<Ahead> => {
  const known = await Promise.all(
    [...model.shed().batches.values()].filter(({ jarredAt }) => jarredAt === null).map(async (batch) => ({ lot: batch.lot, ...(await forecasts.outlook(batch)) })),
  );
  return {
    readyFrom: new Map(known.flatMap(({ lot, forecast }): [string, EpochMs][] => ('unknown' in forecast ? [] : [[lot, Date.parse(forecast.readyFrom)]]))),
    tastings: new Map(known.flatMap(({ lot, tasting }): [string, NextTasting][] => (tasting === null ? [] : [[lot, tasting]]))),
  };
};

export const taskView = async (model: ShedModel, forecasts: Forecasts, task: Task): Promise<TaskShape> => {
  const batch = task.kind === 'change-brine' || task.kind === 'change-water' ? model.shed().batches.get(task.lot) : undefined;
  if (batch === undefined) return taskShape(task);
  const { late } = await forecasts.outlook(batch);
  if (late === null) return taskShape(task);
  const hygiene = hygieneOf(model.shed().limitChanges, batch, model.clock.now());
  return { ...taskShape(task), late: hygiene === null ? late : { ...late, hygiene: { ...hygiene, limitAt: toRfc3339(hygiene.limitAt) } } };
};
