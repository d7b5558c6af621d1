import type { Task as TaskShape } from '#contract';
import { tasksOf, type ReadyFrom, type Task } from '#domain/cure/tasks.ts';
import { hygieneOf } from '#domain/rules/hygiene.ts';
import { toRfc3339, type EpochMs } from '#domain/units/time.ts';
import type { Forecasts } from './forecasts.ts';
import { taskShape } from './shape.ts';
import type { ShedModel } from './shed-model.ts';

/** Tasks as they are shown: with what a late change costs, and, in water and weak brine, how long it may stand. */
export const tasksNow = async (model: ShedModel, forecasts: Forecasts): Promise<TaskShape[]> => {
  const readyFrom = await readyFromOf(model, forecasts);
  return Promise.all(tasksOf(model.shed(), model.clock.now(), model.zone, readyFrom).map((task) => taskView(model, forecasts, task)));
};

/** When the lots in drums may be sweet at the earliest: some tasks look ahead. */
export const readyFromOf = async (model: ShedModel, forecasts: Forecasts): Promise<ReadyFrom> => {
  const known = await Promise.all(
    [...model.shed().batches.values()].filter(({ jarredAt }) => jarredAt === null).map(async (batch): Promise<[string, EpochMs][]> => {
      const forecast = await forecasts.of(batch);
      return 'unknown' in forecast ? [] : [[batch.lot, Date.parse(forecast.readyFrom)]];
    }),
  );
  return new Map(known.flat());
};

export const taskView = async (model: ShedModel, forecasts: Forecasts, task: Task): Promise<TaskShape> => {
  const batch = task.kind === 'change-brine' || task.kind === 'change-water' ? model.shed().batches.get(task.lot) : undefined;
  if (batch === undefined) return taskShape(task);
  const { late } = await forecasts.outlook(batch);
  if (late === null) return taskShape(task);
  const hygiene = hygieneOf(model.shed().limitChanges, batch, model.clock.now());
  return { ...taskShape(task), late: hygiene === null ? late : { ...late, hygiene: { ...hygiene, limitAt: toRfc3339(hygiene.limitAt) } } };
};
