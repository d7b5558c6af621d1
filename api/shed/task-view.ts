import type { Task as TaskShape } from '#contract';
import { tasksOf, type Task } from '#domain/cure/tasks.ts';
import { hygieneOf } from '#domain/rules/hygiene.ts';
import { toRfc3339 } from '#domain/units/time.ts';
import type { Forecasts } from './forecasts.ts';
import { taskShape } from './shape.ts';
import type { ShedModel } from './shed-model.ts';

/** Tasks as they are shown: with what a late change costs, and, in water and weak brine, how long it may stand. */
export const tasksNow = (model: ShedModel, forecasts: Forecasts): Promise<TaskShape[]> =>
  Promise.all(tasksOf(model.shed(), model.clock.now(), model.zone).map((task) => taskView(model, forecasts, task)));

export const taskView = async (model: ShedModel, forecasts: Forecasts, task: Task): Promise<TaskShape> => {
  const batch = task.kind === 'change-brine' || task.kind === 'change-water' ? model.shed().batches.get(task.lot) : undefined;
  if (batch === undefined) return taskShape(task);
  const { late } = await forecasts.outlook(batch);
  if (late === null) return taskShape(task);
  const hygiene = hygieneOf(model.shed().limitChanges, batch, model.clock.now());
  return { ...taskShape(task), late: hygiene === null ? late : { ...late, hygiene: { ...hygiene, limitAt: toRfc3339(hygiene.limitAt) } } };
};
