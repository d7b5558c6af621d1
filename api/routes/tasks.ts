import { byUser } from '#domain/journal/entry.ts';
import type { Task } from '#domain/cure/tasks.ts';
import { newEntry, type NewEntry, type Task as TaskShape } from '#contract';
import { toRfc3339, type EpochMs } from '#domain/units/time.ts';
import { doesNotFit, notFound, unfit } from '../errors.ts';
import { findBatch } from '../shed/find-code.ts';
import type { Forecasts } from '../shed/forecasts.ts';
import type { ShedModel } from '../shed/shed-model.ts';
import { lookAhead, openTasks, tasksNow, taskView } from '../shed/task-view.ts';
import { answered, writeEntry } from './entries.ts';
import { probePhFor } from './jar-guards.ts';
import type { Handlers } from './mount.ts';

/** What is to be done: read, done (with the act it was), skipped (with a reason). */
export const taskRoutes = (model: ShedModel, forecasts: Forecasts): Handlers<'tasks' | 'finishTask' | 'skipTask'> => {
  /** The open task, twice: as it is shown, which takes a moment, and as it still stands when that is known. */
  const find = async (id: string): Promise<{ readonly open: () => Task; readonly shown: TaskShape }> => {
    const ahead = await lookAhead(model, forecasts);
    const open = (): Task => {
      const task = openTasks(model, ahead).find((candidate) => candidate.id === id);
      if (task === undefined) throw notFound(`open task ${id}`);
      return task;
    };
    const shown = await taskView(model, forecasts, open());
    // Another person may have finished it meanwhile.
    return { open, shown };
  };
  return {
    tasks: async () => ({ tasks: await tasksNow(model, forecasts) }),
    finishTask: async ({ params, body, key, user }) => {
      const { open, shown } = await find(params.id ?? '');
      const now = model.clock.now();
      const asked = actOf(open(), body, now);
      const probe = asked === null ? null : await probePhFor(model, findBatch(model, open().lot), asked);
      const task = open();
      const entry = actOf(task, body, now);
      const act = entry === null ? null : writeEntry(model, findBatch(model, task.lot), entry, { user: user.name, key }, probe);
      model.write([{ who: byUser(user.name), kind: 'task-done', body: { task: task.id, entry: act?.sequence ?? null } }]);
      return { task: shown, entry: act === null ? null : answered(model, act) };
    },
    skipTask: async ({ params, body, user }) => {
      const { open, shown } = await find(params.id ?? '');
      model.write([{ who: byUser(user.name), kind: 'task-skipped', body: { task: open().id, reason: body.reason } }]);
      return { task: shown };
    },
  };
};

/** The act that settles a task of a kind: what it is, and what it usually says where nothing else is said; null where only the doing counts. */
interface ActOfTask {
  readonly is: Readonly<Record<string, string>>;
  readonly usually?: object;
  /** Nothing to write is an answer too: all was well. Otherwise one of these acts. */
  readonly mayBe?: readonly unknown[];
}

const acts: Readonly<Record<Task['kind'], ActOfTask | null>> = {
  'calibrate-ph': null,
  'calibrate-temperature': null,
  'change-brine': { is: { kind: 'brine-changed' } },
  'change-water': { is: { kind: 'brine-changed' }, usually: { saltGPerL: 0 } },
  'top-up': { is: { kind: 'brine-topped-up' } },
  skim: { is: { kind: 'skimmed' } },
  stir: { is: { kind: 'handled', what: 'stirred' } },
  'print-labels': null,
  look: { is: {}, usually: { kind: 'brine-topped-up' }, mayBe: ['brine-topped-up', 'skimmed', 'observed'] },
  'measure-temperature': { is: { kind: 'measured', quantity: 'temperature' } },
  'measure-ph': { is: { kind: 'measured', quantity: 'ph' } },
  'measure-salt': { is: { kind: 'measured', quantity: 'salinity' } },
  taste: { is: { kind: 'tasted' } },
  'order-jars': null,
  jar: { is: { kind: 'jarred' } },
  'settle-hold': { is: { kind: 'release' } },
  'measure-jars': { is: { kind: 'jar-ph' } },
  rest: null,
  review: null,
  'clean-drums': null,
  'store-probes': null,
  'gather-fallen': null,
  'write-loads': null,
  prune: null,
  'order-buffers': null,
};

const actOf = (task: Task, body: Readonly<Record<string, unknown>>, now: EpochMs): NewEntry | null => {
  const act = acts[task.kind];
  const [given] = Object.keys(body);
  if (act === null) {
    if (given !== undefined) throw unfit(given, 'is not asked for by this task');
    return null;
  }
  if (act.mayBe !== undefined && given === undefined) return null;
  if (act.mayBe !== undefined && body['kind'] !== undefined && !act.mayBe.includes(body['kind'])) throw unfit('kind', `must be one of ${act.mayBe.join(', ')} for this task`);
  for (const [field, value] of Object.entries(act.is)) if (Object.hasOwn(body, field) && body[field] !== value) throw unfit(field, `must be ${value} for this task`);
  const parsed = newEntry.safeParse({ at: toRfc3339(now), ...act.usually, ...body, ...act.is });
  if (!parsed.success) throw doesNotFit(parsed.error);
  return parsed.data;
};
