import type { Drum } from '#contract';
import { nextTask, tasksOf, type Tastings } from '#domain/cure/tasks.ts';
import { stageAt } from '#domain/cure/stage.ts';
import type { Batch } from '#domain/journal/shed.ts';
import { batchShownFor, batchSummary } from './batch-view.ts';
import { flagOf } from './flag.ts';
import type { Forecasts } from './forecasts.ts';
import { drumNow } from './now-view.ts';
import { questionsNow } from './question-view.ts';
import { alertShape } from './shape.ts';
import type { ShedModel } from './shed-model.ts';
import { taskView } from './task-view.ts';

/** One drum with what is known now; null when there is no such drum. */
export const drumView = async (model: ShedModel, forecasts: Forecasts, id: string): Promise<Drum | null> => {
  const shed = model.shed();
  const drum = shed.drums.get(id);
  if (drum === undefined) return null;
  const now = model.clock.now();
  const batch = batchShownFor(shed, id);
  const values = (await drumNow(model, id, batch)) as Drum['now'];
  const questions = questionsNow(model, id);
  const alerts = [...shed.openAlerts.values()].filter((alert) => alert.drum === id);
  const task = drum.lot === null && batch !== null ? (tasksOf(shed, now, model.zone).find(({ lot }) => lot === batch.lot) ?? null) : nextTask(shed, id, now, model.zone, await tastingOf(forecasts, batch));
  return {
    id,
    name: drum.name,
    volumeL: drum.volumeL,
    insulated: drum.insulated,
    flag: flagOf(batch === null ? null : stageAt(batch, now), values.temperature, alerts),
    now: values,
    batch: batch === null ? null : await batchSummary(model, forecasts, batch),
    alerts: alerts.map((alert) => alertShape(alert, model.shed())),
    nextTask: task === null ? null : await taskView(model, forecasts, task),
    revision: drum.revision,
    ...(questions.length === 0 ? {} : { questions }),
  };
};

const tastingOf = async (forecasts: Forecasts, batch: Batch | null): Promise<Tastings> => {
  const tasting = batch === null ? null : (await forecasts.outlook(batch)).tasting;
  return new Map(batch === null || tasting === null ? [] : [[batch.lot, tasting]]);
};

export const allDrums = async (model: ShedModel, forecasts: Forecasts): Promise<Drum[]> => {
  const drums = await Promise.all([...model.shed().drums.keys()].map((id) => drumView(model, forecasts, id)));
  return drums.filter((drum) => drum !== null);
};
