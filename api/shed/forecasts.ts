import type { Forecast } from '#contract';
import { forecastReadiness } from '#domain/cure/forecast.ts';
import { stageAt } from '#domain/cure/stage.ts';
import { plannedChangesOf } from '#domain/cure/planned-changes.ts';
import { segmentsOf } from '#domain/journal/placement.ts';
import { isAct, type Batch } from '#domain/journal/shed.ts';
import { minuteMs, toRfc3339, type EpochMs } from '#domain/units/time.ts';
import type { ShedModel } from './shed-model.ts';

/** When each batch is likely sweet: worked out anew when its story has grown, otherwise every ten minutes of the shed's clock. */
export interface Forecasts {
  of(batch: Batch): Promise<Forecast>;
}

const keepMs = 10 * minuteMs;
/** What is not known yet may be known with the next reading. */
const keepUnknownMs = minuteMs / 6;
/** Points of temperature over the cure: far finer than the drum can change. */
const temperaturePoints = 600;

export const createForecasts = (model: ShedModel): Forecasts => {
  const kept = new Map<string, { readonly acts: Batch['acts']; readonly placements: unknown; readonly at: EpochMs; readonly forecast: Forecast }>();
  return {
    of: async (batch) => {
      const now = model.clock.now();
      const last = kept.get(batch.lot);
      const { placements } = model.shed();
      if (last !== undefined && last.acts === batch.acts && last.placements === placements && now - last.at < ('unknown' in last.forecast ? keepUnknownMs : keepMs)) return last.forecast;
      const forecast = await forecastOf(model, batch, now);
      kept.set(batch.lot, { acts: batch.acts, placements, at: now, forecast });
      return forecast;
    },
  };
};

const forecastOf = async (model: ShedModel, batch: Batch, now: EpochMs): Promise<Forecast> => {
  const stage = stageAt(batch, now);
  if (stage === 'jarred' || stage === 'rest' || stage === 'ready') return { unknown: 'the fruit is in jars' };
  if (stage === 'hold') return { unknown: 'tasted sweet; waiting for its jars' };
  const span = { from: batch.startedAt, to: now };
  if (span.from >= span.to) return { unknown: 'the cure has not started' };
  const { points } = await model.store.view(segmentsOf(model.shed(), batch.drum, 'temperature', span), span, temperaturePoints);
  const outcome = forecastReadiness({
    batch,
    temperatures: points.map(({ t, mean }) => ({ t, temperatureC: mean })),
    changes: batch.acts.filter(isAct('brine-changed')).map(({ at, body }) => ({ at, fraction: body.fraction ?? 1 })),
    plannedChanges: plannedChangesOf(model.shed(), batch, now, model.zone),
    tastings: batch.acts.filter(isAct('tasted')).map(({ at, body }) => ({ at, bitterness: body.bitterness })),
    now,
  });
  if ('unknown' in outcome) return outcome;
  return { readyFrom: toRfc3339(outcome.readyFrom), readyLikely: toRfc3339(outcome.readyLikely), readyTo: toRfc3339(outcome.readyTo), basis: outcome.basis };
};
