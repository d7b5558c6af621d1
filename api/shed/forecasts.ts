import type { Forecast, Late } from '#contract';
import { brineAt } from '#domain/cure/brine.ts';
import { changesOf } from '#domain/cure/change-rhythm.ts';
import { costOfLateness } from '#domain/cure/cost-of-lateness.ts';
import type { CureSoFar } from '#domain/cure/fitted-course.ts';
import { forecastReadiness } from '#domain/cure/forecast.ts';
import type { GrowerGuess } from '#domain/cure/grower-guess.ts';
import { lastTaste } from '#domain/cure/last-taste.ts';
import { nextTasting, type NextTasting } from '#domain/cure/next-tasting.ts';
import { openChangeOf, type OpenChange } from '#domain/cure/open-change.ts';
import { stageAt } from '#domain/cure/stage.ts';
import { plannedChangesOf } from '#domain/cure/planned-changes.ts';
import { tastingScore } from '#domain/cure/tasting-score.ts';
import { segmentsOfBatch } from '#domain/journal/placement.ts';
import { isAct, type Batch, type Shed } from '#domain/journal/shed.ts';
import { minuteMs, type EpochMs } from '#domain/units/time.ts';
import { createCureRecords } from './cure-records.ts';
import { createEarlierCures, type EarlierCures } from './earlier-cures.ts';
import { forecastShape, lateShape } from './shape.ts';
import type { ShedModel } from './shed-model.ts';
import { isAway } from './view-while-away.ts';

/** When a batch is likely sweet, and what becomes of that when its next change is late; `late` is null where nothing is to be changed. */
export interface Outlook {
  readonly forecast: Forecast;
  readonly late: Late | null;
  /** The score a tasting now is likely to give; null where the model does not know. */
  readonly bitterness: number | null;
  /** The tasting that teaches most; null where the finish is not in sight. */
  readonly tasting: NextTasting | null;
}

/** Worked out anew when the story has grown or the plan is another, otherwise every ten minutes of the shed's clock. */
export interface Forecasts {
  of(batch: Batch): Promise<Forecast>;
  outlook(batch: Batch): Promise<Outlook>;
  known(batch: Batch): Promise<Known | { readonly unknown: string }>;
}

/** What a forecast, and whatever asks "what if", is made from. */
export interface Known extends CureSoFar {
  readonly open: OpenChange | null;
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

export const createForecasts = (model: ShedModel, earlier: EarlierCures = createEarlierCures(model, createCureRecords(model))): Forecasts => {
  const kept = new Map<string, Kept>();
  const outlook = async (batch: Batch): Promise<Outlook> => {
    try {
      return await worked(batch);
    } catch (error) {
      if (isAway(error)) return { forecast: { unknown: 'the readings of this cure are in InfluxDB, which does not answer' }, late: null, bitterness: null, tasting: null };
      throw error;
    }
  };
  const worked = async (batch: Batch): Promise<Outlook> => {
    const now = model.clock.now();
    const guess = await earlier(batch);
    const basis = [...basisOf(model.shed(), batch), guess];
    const last = kept.get(batch.lot);
    if (last !== undefined && basis.every((part, index) => part === last.basis[index]) && now - last.at < ('unknown' in last.forecast ? keepUnknownMs : keepMs)) return last;
    const found = await outlookOf(model, batch, now, guess);
    kept.set(batch.lot, { ...found, basis, at: now });
    return found;
  };
  return {
    outlook,
    of: async (batch) => (await outlook(batch)).forecast,
    known: async (batch) => {
      const now = model.clock.now();
      return unforeseen(batch, now) ?? known(model, batch, now, await earlier(batch));
    },
  };
};

/** What an outlook rests on, beside the clock and the readings. */
const basisOf = ({ placements, schedules, taskOutcomes }: Shed, { acts }: Batch): readonly unknown[] => [acts, placements, schedules, taskOutcomes];

/** Why there is nothing to foresee; null: there is. */
const unforeseen = (batch: Batch, now: EpochMs): { readonly unknown: string } | null => {
  const stage = stageAt(batch, now);
  if (stage === 'jarred' || stage === 'rest' || stage === 'ready') return { unknown: 'the fruit is in jars' };
  if (stage === 'hold') return { unknown: 'tasted sweet; waiting for its jars' };
  return batch.startedAt >= now ? { unknown: 'the cure has not started' } : null;
};

const known = async (model: ShedModel, batch: Batch, now: EpochMs, guess: GrowerGuess | undefined): Promise<Known> => {
  const shed = model.shed();
  const span = { from: batch.startedAt, to: now };
  const { points } = await model.store.view(segmentsOfBatch(shed, batch, 'temperature', span), span, temperaturePoints);
  return {
    batch,
    temperatures: points.map(({ t, mean }) => ({ t, temperatureC: mean })),
    changes: changesOf(batch),
    plannedChanges: plannedChangesOf(shed, batch, now, model.zone),
    tastings: batch.acts.filter(isAct('tasted')).map(({ at, body }) => ({ at, bitterness: body.bitterness })),
    now,
    open: openChangeOf(shed, batch, now, model.zone),
    ...(guess === undefined ? {} : { guess }),
  };
};

const outlookOf = async (model: ShedModel, batch: Batch, now: EpochMs, guess: GrowerGuess | undefined): Promise<Outlook> => {
  const nothing = unforeseen(batch, now);
  if (nothing !== null) return { forecast: nothing, late: null, bitterness: null, tasting: null };
  const soFar = await known(model, batch, now, guess);
  const { open } = soFar;
  const readiness = forecastReadiness(soFar);
  // The grid of the tasting knows nothing of a tongue that is off: where the forecast is wider, the forecast is believed.
  const tasting = nextTasting(soFar, lastTaste(model.shed(), batch, now), model.zone);
  return {
    forecast: forecastShape(readiness),
    late: open === null ? null : lateShape(costOfLateness({ ...soFar, open, brine: brineAt(batch, now) })),
    bitterness: 'unknown' in readiness ? null : tastingScore(readiness.fleshNow),
    tasting: tasting === null || 'unknown' in readiness ? null : { ...tasting, notBefore: Math.min(tasting.notBefore, readiness.readyFrom) },
  };
};
