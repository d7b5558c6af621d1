import type { Ribbon, Wall } from '#contract';
import { localDate, restOver } from '#domain/cure/stage.ts';
import { segmentsOfBatch } from '#domain/journal/placement.ts';
import { isAct, type Batch } from '#domain/journal/shed.ts';
import { limitsInForce, strictest } from '#domain/rules/limits-in-force.ts';
import { dayMs, toRfc3339 } from '#domain/units/time.ts';
import { alertsOf, batchShownFor } from './batch-view.ts';
import { allDrums } from './drum-view.ts';
import type { Forecasts } from './forecasts.ts';
import { keyShape } from './key.ts';
import { airNow } from './now-view.ts';
import { probeViews, type PresenceOf } from './probe-view.ts';
import type { ShedModel } from './shed-model.ts';
import { viewWhileAway } from './view-while-away.ts';
import { tasksNow } from './task-view.ts';

/** Everything the wall shows, in one answer. */
export const wallView = async (model: ShedModel, forecasts: Forecasts, presenceOf: PresenceOf): Promise<Wall> => {
  const shed = model.shed();
  const now = model.clock.now();
  const today = localDate(now, model.zone);
  const [drums, tasks, air, probes] = await Promise.all([allDrums(model, forecasts), tasksNow(model, forecasts), airNow(model), probeViews(model, presenceOf)]);
  // What came from a file is not expected to speak.
  const expected = probes.filter(({ health }) => health !== 'unknown');
  const rows = await Promise.all(
    drums.map(async (drum) => {
      const batch = batchShownFor(shed, drum.id);
      return { ...drum, ribbon: batch === null ? null : await ribbonOf(model, forecasts, batch) };
    }),
  );
  return {
    site: { name: shed.site?.name ?? '', zone: model.zone, keyFingerprint: keyShape(shed)?.fingerprint ?? null },
    now: toRfc3339(now),
    air,
    drums: rows,
    counts: {
      alerts: [...shed.openAlerts.values()].filter(({ priority }) => priority !== 'note').length,
      dueToday: tasks.filter(({ dueAt }) => Temporal.PlainDate.compare(localDate(Date.parse(dueAt), model.zone), today) <= 0).length,
      probes: expected.length,
      probesSilent: expected.filter(({ health }) => health !== 'ok').length,
    },
  };
};

/** About one point for each two pixels of a ribbon on a large wall. */
const ribbonPoints = 300;

const ribbonOf = async (model: ShedModel, forecasts: Forecasts, batch: Batch): Promise<Ribbon> => {
  const shed = model.shed();
  const now = model.clock.now();
  const end = batch.jarredAt ?? now;
  const span = { from: batch.startedAt, to: Math.max(end, batch.startedAt + 1) };
  const [view, forecast] = await Promise.all([viewWhileAway(model, segmentsOfBatch(shed, batch, 'temperature', span), span, ribbonPoints), forecasts.of(batch)]);
  const band = strictest(limitsInForce(shed.limitChanges, batch.drum, batch, end), 'temperature');
  const readyToEatAt = batch.jarredAt === null ? null : restOver(batch.jarredAt);
  const far = 'readyTo' in forecast ? Math.min(Date.parse(forecast.readyTo), now + 366 * dayMs) : (readyToEatAt ?? now);
  return {
    from: batch.startedAt,
    to: Math.max(far, now),
    band: band.low === null && band.high === null ? null : { low: band.low?.low ?? null, high: band.high?.high ?? null },
    temperature: view.points.map(({ t, min, mean, max }) => ({ t, min, mean, max })),
    gaps: [...view.gaps],
    outside: alertsOf(shed, batch)
      .filter(({ quantity, limit }) => quantity === 'temperature' && limit.side !== null)
      .flatMap(({ excursions, limit }) => excursions.map(({ from, to }) => ({ from, to: to ?? now, side: limit.side ?? 'high' }))),
    changes: batch.acts.filter(isAct('brine-changed')).map(({ at, sequence }) => ({ t: at, sequence })),
    tastings: batch.acts.filter(isAct('tasted')).map(({ at, sequence, body }) => ({ t: at, sequence, bitterness: body.bitterness })),
    jarredAt: batch.jarredAt,
    readyToEatAt,
    forecast,
  };
};
