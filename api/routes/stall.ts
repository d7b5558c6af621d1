import type { Stall } from '#contract';
import { sweetBitterness } from '#domain/cure/batch.ts';
import { localDate, restOver, stageAt } from '#domain/cure/stage.ts';
import type { Finish } from '#domain/jar/finish-day.ts';
import { openHolds } from '#domain/jar/holds.ts';
import { jarStock } from '#domain/jar/jar-stock.ts';
import { workBackwards, type BatchForMarket } from '#domain/jar/work-backwards.ts';
import { isAct, type Batch } from '#domain/journal/shed.ts';
import { toRfc3339, type EpochMs } from '#domain/units/time.ts';
import { ApiError } from '../errors.ts';
import type { Forecasts } from '../shed/forecasts.ts';
import { gateAt } from '../shed/jar-view.ts';
import type { ShedModel } from '../shed/shed-model.ts';
import type { Handlers } from './mount.ts';

/** Which lots can stand on the stall on a day, worked backwards from it. */
export const stallRoutes = (model: ShedModel, forecasts: Forecasts): Handlers<'stall'> => ({
  stall: async ({ query: { date } }): Promise<Stall> => {
    const now = model.clock.now();
    if (date < localDate(now, model.zone).toString()) throw new ApiError('bad-query', 'date: lies in the past. Name a day that is still to come.', [{ path: 'date', message: 'lies in the past' }]);
    const marketAt = Temporal.PlainDate.from(date).toZonedDateTime({ timeZone: model.zone, plainTime: Temporal.PlainTime.from('08:00') }).epochMilliseconds;
    const batches = [...model.shed().batches.values()].toSorted((one, other) => one.startedAt - other.startedAt);
    const inDrums = batches.filter((batch) => batch.jarredAt === null);
    const asked = await Promise.all(inDrums.map(async (batch) => ({ lot: batch.lot, startedAt: batch.startedAt, forecast: await finishOf(forecasts, batch, now) })));
    const plan = workBackwards({ marketAt, zone: model.zone, batches: asked });
    // The days between are those of the program: they cannot be refused.
    if (!plan.ok) throw new Error(plan.error.message);
    const { finishBy, jarBy, releaseBy, assumed } = plan.value;
    return {
      date,
      finishBy: toRfc3339(finishBy),
      jarBy: toRfc3339(jarBy),
      releaseBy: toRfc3339(releaseBy),
      curing: plan.value.batches.map((each, index) => curingLot(each, inDrums[index] as Batch, now)),
      inJars: batches.filter(({ jarredAt }) => jarredAt !== null).map((batch) => jarLot(model, batch, marketAt, now)).filter(({ left }) => left > 0),
      assumed: [...assumed],
      caution: 'Days and bitterness only. Whether jars may leave is told by their own pH and by the holds on the lot, not by the calendar.',
    };
  },
});

/** Fruit that was tasted sweet is finished; for the rest the forecast stands. */
const finishOf = async (forecasts: Forecasts, batch: Batch, now: EpochMs): Promise<Finish | null> => {
  if (stageAt(batch, now) === 'hold') {
    const sweetAt = batch.acts.filter(isAct('tasted')).find(({ body }) => body.bitterness <= sweetBitterness)?.at ?? now;
    return { readyFrom: sweetAt, readyLikely: sweetAt, readyTo: sweetAt, openEnded: false };
  }
  const forecast = await forecasts.of(batch);
  if ('unknown' in forecast) return null;
  return { readyFrom: Date.parse(forecast.readyFrom), readyLikely: Date.parse(forecast.readyLikely), readyTo: Date.parse(forecast.readyTo), openEnded: false };
};

const words = {
  p80: 'likely on the table: four times in five it is finished in time',
  p50: 'may be on the table: every other time it is finished in time',
  no: 'not on the table: it is likely finished too late',
  unknown: 'nobody can say yet: there is no forecast',
} as const;

const curingLot = ({ lot, onTheTable, spareDaysP50, readyP50 }: BatchForMarket, batch: Batch, now: EpochMs): Stall['curing'][number] => {
  const held = openHolds(batch.acts, now).length > 0;
  return {
    lot, drum: batch.drum, onTheTable, held,
    spareDays: spareDaysP50 === null ? null : Math.floor(spareDaysP50 * 10) / 10,
    readyLikely: readyP50 === null ? null : toRfc3339(readyP50),
    text: held ? `${words[onTheTable]}; it is on hold now` : words[onTheTable],
  };
};

const jarLot = (model: ShedModel, batch: Batch, marketAt: EpochMs, now: EpochMs): Stall['inJars'][number] => {
  const readyAt = restOver(batch.jarredAt ?? now);
  const rested = readyAt <= marketAt;
  const held = openHolds(batch.acts, now).length > 0;
  const verdict = gateAt(model, batch, now)?.verdict ?? 'unknown';
  const parts = [rested ? 'rested by then' : 'still resting then', held ? 'on hold now' : '', `pH of its packed jars ${verdict}`];
  return { lot: batch.lot, left: jarStock(batch.acts, now).left, readyAt: toRfc3339(readyAt), rested, held, verdict, text: parts.filter((part) => part !== '').join('; ') };
};
