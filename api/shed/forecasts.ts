import type { Forecast, Late } from '#contract';
import { brineAt } from '#domain/cure/brine.ts';
import { costOfLateness } from '#domain/cure/cost-of-lateness.ts';
import type { CureSoFar } from '#domain/cure/fitted-course.ts';
import { forecastReadiness } from '#domain/cure/forecast.ts';
import { openChangeOf } from '#domain/cure/open-change.ts';
import { stageAt } from '#domain/cure/stage.ts';
import { plannedChangesOf } from '#domain/cure/planned-changes.ts';
import { tastingScore } from '#domain/cure/tasting-score.ts';
import { segmentsOfBatch } from '#domain/journal/placement.ts';
import { isAct, type Batch, type Shed } from '#domain/journal/shed.ts';
import { minuteMs, toRfc3339, type EpochMs } from '#domain/units/time.ts';
import { lateShape } from './shape.ts';
import type { ShedModel } from './shed-model.ts';

/** When a batch is likely sweet, and what becomes of that when its next change is late; `late` is null where nothing is to be changed. */
export interface Outlook {
  readonly forecast: Forecast;
  readonly late: Late | null;
  /** The score a tasting now is likely to give; null where the model does not know. */
  readonly bitterness: number | null;
}

/** Worked out anew when the story has grown or the plan is another, otherwise every ten minutes of the shed's clock. */
export interface Forecasts {
  of(batch: Batch): Promise<Forecast>;
  outlook(batch: Batch): Promise<Outlook>;
}

interface Kept extends Outlook {
  readonly basis: readonly unknown[];
  readonly at: EpochMs;
}

const keepMs = 10 * minuteMs;
/** What is not known yet may be known with the next reading. */
const keepUnknownMs = minuteMs / 6;
/** Points of temperature over the cure: far finer than the drum can change. */
const temperaturePoints = 600;

export const createForecasts = (model: ShedModel): Forecasts => {
  const kept = new Map<string, Kept>();
  const outlook = async (batch: Batch): Promise<Outlook> => {
    const now = model.clock.now();
    const basis = basisOf(model.shed(), batch);
    const last = kept.get(batch.lot);
    if (last !== undefined && basis.every((part, index) => part === last.basis[index]) && now - last.at < ('unknown' in last.forecast ? keepUnknownMs : keepMs)) return last;
    const worked = await outlookOf(model, batch, now);
    kept.set(batch.lot, { ...worked, basis, at: now });
    return worked;
  };
  return { outlook, of: async (batch) => (await outlook(batch)).forecast };
};

/** What an outlook rests on, beside the clock and the readings. */
const basisOf = ({ placements, schedules, taskOutcomes }: Shed, { acts }: Batch): readonly unknown[] => [acts, placements, schedules, taskOutcomes];

const outlookOf = async (model: ShedModel, batch: Batch, now: EpochMs): Promise<Outlook> => {
  const stage = stageAt(batch, now);
  if (stage === 'jarred' || stage === 'rest' || stage === 'ready') return { forecast: { unknown: 'the fruit is in jars' }, late: null, bitterness: null };
  if (stage === 'hold') return { forecast: { unknown: 'tasted sweet; waiting for its jars' }, late: null, bitterness: null };
  const shed = model.shed();
  const open = openChangeOf(shed, batch, now, model.zone);
  const span = { from: batch.startedAt, to: now };
  if (span.from >= span.to) return { forecast: { unknown: 'the cure has not started' }, late: null, bitterness: null };
  const { points } = await model.store.view(segmentsOfBatch(shed, batch, 'temperature', span), span, temperaturePoints);
  const soFar: Omit<CureSoFar, 'plannedChanges'> = {
    batch,
    temperatures: points.map(({ t, mean }) => ({ t, temperatureC: mean })),
    changes: batch.acts.filter(isAct('brine-changed')).map(({ at, body }) => ({ at, fraction: body.fraction ?? 1 })),
    tastings: batch.acts.filter(isAct('tasted')).map(({ at, body }) => ({ at, bitterness: body.bitterness })),
    now,
  };
  const readiness = forecastReadiness({ ...soFar, plannedChanges: plannedChangesOf(shed, batch, now, model.zone) });
  const forecast = 'unknown' in readiness ? readiness : { readyFrom: toRfc3339(readiness.readyFrom), readyLikely: toRfc3339(readiness.readyLikely), readyTo: toRfc3339(readiness.readyTo), basis: readiness.basis };
  return {
    forecast,
    late: open === null ? null : lateShape(costOfLateness({ ...soFar, open, brine: brineAt(batch, now) })),
    bitterness: 'unknown' in readiness ? null : tastingScore(readiness.fleshNow),
  };
};
