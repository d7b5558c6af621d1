import { byUser } from '#domain/journal/entry.ts';
import { tasksOf, type Task } from '#domain/cure/tasks.ts';
import { newEntry, type NewEntry } from '#contract';
import { toRfc3339, type EpochMs } from '#domain/units/time.ts';
import { doesNotFit, notFound, unfit } from '../errors.ts';
import type { Forecasts } from '../shed/forecasts.ts';
import { storyShape } from '../shed/shape.ts';
import type { ShedModel } from '../shed/shed-model.ts';
import { tasksNow, taskView } from '../shed/task-view.ts';
import { findBatch } from './batches.ts';
import { writeEntry } from './entries.ts';
import type { Handlers } from './mount.ts';

/** What is to be done: read, done (with the act it was), skipped (with a reason). */
export const taskRoutes = (model: ShedModel, forecasts: Forecasts): Handlers<'tasks' | 'finishTask' | 'skipTask'> => {
  const find = (id: string): Task => {
    const task = tasksOf(model.shed(), model.clock.now(), model.zone).find((candidate) => candidate.id === id);
    if (task === undefined) throw notFound(`open task ${id}`);
    return task;
  };
  return {
    tasks: async () => ({ tasks: await tasksNow(model, forecasts) }),
    finishTask: async ({ params, body, key, user }) => {
      const shown = await taskView(model, forecasts, find(params.id ?? ''));
      // Found anew: another person may have finished it meanwhile.
      const task = find(params.id ?? '');
      const entry = actOf(task, body, model.clock.now());
      const act = entry === null ? null : writeEntry(model, findBatch(model, task.lot), entry, { user: user.name, key });
      model.write([{ who: byUser(user.name), kind: 'task-done', body: { task: task.id, entry: act?.sequence ?? null } }]);
      return { task: shown, entry: act === null ? null : storyShape(act) };
    },
    skipTask: async ({ params, body, user }) => {
      const shown = await taskView(model, forecasts, find(params.id ?? ''));
      const task = find(params.id ?? '');
      model.write([{ who: byUser(user.name), kind: 'task-skipped', body: { task: task.id, reason: body.reason } }]);
      return { task: shown };
    },
  };
};

/** The act that settles a task of a kind: what it is, and what it usually says where nothing else is said; a review has none. */
const acts: Readonly<Record<Task['kind'], { readonly is: Readonly<Record<string, string>>; readonly usually?: object } | null>> = {
  'change-brine': { is: { kind: 'brine-changed' } },
  'change-water': { is: { kind: 'brine-changed' }, usually: { saltGPerL: 0 } },
  'measure-ph': { is: { kind: 'measured', quantity: 'ph' } },
  taste: { is: { kind: 'tasted' } },
  review: null,
};

const actOf = (task: Task, body: Readonly<Record<string, unknown>>, now: EpochMs): NewEntry | null => {
  const act = acts[task.kind];
  if (act === null) {
    const [surplus] = Object.keys(body);
    if (surplus !== undefined) throw unfit(surplus, 'is not asked for by this task');
    return null;
  }
  for (const [field, value] of Object.entries(act.is)) if (Object.hasOwn(body, field) && body[field] !== value) throw unfit(field, `must be ${value} for this task`);
  const parsed = newEntry.safeParse({ at: toRfc3339(now), ...act.usually, ...body, ...act.is });
  if (!parsed.success) throw doesNotFit(parsed.error);
  return parsed.data;
};
