import { byUser } from '#domain/journal/entry.ts';
import { tasksOf, type Task } from '#domain/cure/tasks.ts';
import { newEntry, type NewEntry } from '#contract';
import { toRfc3339, type EpochMs } from '#domain/units/time.ts';
import { doesNotFit, notFound } from '../errors.ts';
import { storyShape, taskShape } from '../shed/shape.ts';
import type { ShedModel } from '../shed/shed-model.ts';
import { findBatch } from './batches.ts';
import { writeEntry } from './entries.ts';
import type { Handlers } from './mount.ts';

/** What is to be done: read, done (with the act it was), skipped (with a reason). */
export const taskRoutes = (model: ShedModel): Handlers<'tasks' | 'finishTask' | 'skipTask'> => {
  const all = (): Task[] => tasksOf(model.shed(), model.clock.now(), model.zone);
  const find = (id: string): Task => {
    const task = all().find((candidate) => candidate.id === id);
    if (task === undefined) throw notFound(`open task ${id}`);
    return task;
  };
  return {
    tasks: () => ({ tasks: all().map(taskShape) }),
    finishTask: ({ params, body, user }) => {
      const task = find(params.id ?? '');
      const entry = actOf(task, body, model.clock.now());
      const act = entry === null ? null : writeEntry(model, findBatch(model, task.lot), entry, user.name);
      model.write([{ who: byUser(user.name), kind: 'task-done', body: { task: task.id, entry: act?.sequence ?? null } }]);
      return { task: taskShape(task), entry: act === null ? null : storyShape(act) };
    },
    skipTask: ({ params, body, user }) => {
      const task = find(params.id ?? '');
      model.write([{ who: byUser(user.name), kind: 'task-skipped', body: { task: task.id, reason: body.reason } }]);
      return { task: taskShape(task) };
    },
  };
};

/** The act that settles a task of a kind; a review has none. */
const actFields: Readonly<Record<Task['kind'], object | null>> = {
  'change-brine': { kind: 'brine-changed' },
  'change-water': { kind: 'brine-changed', saltGPerL: 0 },
  'measure-ph': { kind: 'measured', quantity: 'ph' },
  taste: { kind: 'tasted' },
  review: null,
};

const actOf = (task: Task, body: Readonly<Record<string, unknown>>, now: EpochMs): NewEntry | null => {
  const fields = actFields[task.kind];
  if (fields === null) return null;
  const parsed = newEntry.safeParse({ ...fields, at: toRfc3339(now), ...body });
  if (!parsed.success) throw doesNotFit(parsed.error);
  return parsed.data;
};
