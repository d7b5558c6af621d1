import { randomBytes } from 'node:crypto';
import type { Response } from 'express';
import type { Health } from '#contract';
import type { Shed } from '#domain/journal/shed.ts';
import { toRfc3339 } from '#domain/units/time.ts';
import { ApiError } from '../errors.ts';
import { pastAlerts } from '../shed/batch-view.ts';
import { allDrums, drumView } from '../shed/drum-view.ts';
import type { Forecasts } from '../shed/forecasts.ts';
import { alertShape } from '../shed/shape.ts';
import type { ShedModel } from '../shed/shed-model.ts';
import { tasksNow } from '../shed/task-view.ts';
import { createHub, type Listener, type Snapshot } from './hub.ts';

/** What happens in the shed, told to every screen that listens: alerts at once, drums a moment later and together. */
export interface Live {
  /** The journal has grown from one state to another. */
  journal(before: Shed, after: Shed): void;
  /** A drum has news: said within `drumDelayMs`, many readings together. */
  drum(id: string): void;
  health(health: Health): void;
  /** Once a second: what time alone has changed (a task overdue). */
  tick(): void;
  beat(): void;
  /** Answers with the stream until the client leaves, is cut off, or is no longer `allowed`. */
  listen(response: Response, lastId: string | null, allowed: () => boolean): Promise<void>;
  readonly listeners: number;
  close(): void;
}

const drumDelayMs = 200;

export const createLive = (model: ShedModel, forecasts: Forecasts, healthNow: () => Health, failed: (error: unknown) => void): Live => {
  const hub = createHub(randomBytes(4).toString('hex'));
  const touched = new Set<string>();
  let timer: NodeJS.Timeout | null = null;
  let tasks = new Map<string, string>();
  let round: 'idle' | 'going' | 'again' = 'idle';
  let isClosed = false;

  const saySoon = (): void => {
    timer ??= setTimeout(() => {
      timer = null;
      const ids = [...touched];
      touched.clear();
      Promise.all(ids.map(async (id) => {
        const drum = await drumView(model, forecasts, id);
        if (drum !== null) hub.send('drum', drum);
      })).catch(failed);
    }, drumDelayMs);
  };
  /** One round after the other, so that what is newer is said later; asked again meanwhile, it goes round once more. */
  const sayTasks = (): void => {
    if (round !== 'idle') {
      round = 'again';
      return;
    }
    round = 'going';
    tasksNow(model, forecasts)
      .then((shown) => {
        const current = new Map(shown.map((task) => [task.id, JSON.stringify(task)]));
        for (const task of shown) if (tasks.get(task.id) !== current.get(task.id)) hub.send('task', task);
        for (const id of tasks.keys()) if (!current.has(id)) hub.send('task', { id, gone: true });
        tasks = current;
      })
      .catch((error: unknown) => {
        if (!isClosed) failed(error);
      })
      .finally(() => {
        const isAskedAgain = round === 'again';
        round = 'idle';
        if (isAskedAgain && !isClosed) sayTasks();
      });
  };

  const snapshot = async (): Promise<readonly Snapshot[]> => [
    ...(await allDrums(model, forecasts)).map((data): Snapshot => ({ name: 'drum', data })),
    ...[...model.shed().openAlerts.values()].map((alert): Snapshot => ({ name: 'alert', data: alertShape(alert, model.shed()) })),
    ...(await tasksNow(model, forecasts)).map((data): Snapshot => ({ name: 'task', data })),
    { name: 'health', data: { ...healthNow(), now: toRfc3339(model.clock.now()) } },
  ];

  return {
    journal: (before, after) => {
      for (const [id, alert] of after.openAlerts) if (before.openAlerts.get(id) !== alert || before.alertActions.get(id) !== after.alertActions.get(id)) hub.send('alert', alertShape(alert, after));
      for (const alert of pastAlerts(after.pastAlerts)) {
        if (alert === before.pastAlerts?.alert) break;
        hub.send('alert', alertShape(alert, after));
      }
      for (const [id, drum] of after.drums) if (before.drums.get(id) !== drum) touched.add(id);
      // What is next in a drum goes by its schedule.
      if (before.schedules !== after.schedules) for (const id of after.drums.keys()) touched.add(id);
      if (touched.size > 0) saySoon();
      if (before.batches !== after.batches || before.schedules !== after.schedules || before.taskOutcomes !== after.taskOutcomes) sayTasks();
    },
    drum: (id) => {
      if (!model.shed().drums.has(id)) return;
      touched.add(id);
      saySoon();
    },
    health: (health) => hub.send('health', { ...health, now: toRfc3339(model.clock.now()) }),
    tick: sayTasks,
    beat: hub.beat,
    listen: async (response, lastId, allowed) => {
      if (hub.isFull) throw new ApiError('too-many-listeners', 'Close a screen somewhere, then try again.');
      response.writeHead(200, { 'content-type': 'text/event-stream', 'cache-control': 'no-store', 'x-accel-buffering': 'no' });
      const listener: Listener = { write: (text) => void response.write(text), behind: () => response.writableLength, allowed, end: () => void response.end(), cut: () => void response.destroy() };
      // Of the response: a request that brought a body is closed once that is read.
      response.once('close', () => hub.leave(listener));
      try {
        await hub.join(listener, lastId, snapshot);
      } catch (error) {
        failed(error);
        response.destroy();
      }
    },
    get listeners() {
      return hub.listeners;
    },
    close: () => {
      isClosed = true;
      if (timer !== null) clearTimeout(timer);
      hub.close();
    },
  };
};
