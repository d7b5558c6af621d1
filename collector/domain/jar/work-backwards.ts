import { restDays as defaultRestDays } from '../cure/batch.ts';
import { localMorning } from '../cure/schedule.ts';
import { localDate } from '../cure/stage.ts';
import type { Result } from '../result.ts';
import { ok } from '../result.ts';
import type { EpochMs } from '../units/time.ts';
import { dayMs } from '../units/time.ts';
import type { OutsideValidRange, ValidRange } from '../valid-range.ts';
import { findOutside, outsideValidRange } from '../valid-range.ts';
import type { Finish } from './finish-day.ts';
import { finishBy } from './finish-day.ts';

export interface MarketPlan {
  readonly marketAt: EpochMs;
  /** IANA zone of the site: days are counted on its calendar. */
  readonly zone: string;
  readonly restDays?: number | undefined;
  /** From packing until two readings of the packed jars agree: three days at least, a week or more for whole fruit. */
  readonly phStableDays?: number | undefined;
  /** From the day it is called ready until its jars are filled. */
  readonly jarringDays?: number | undefined;
  readonly batches: readonly MarketBatch[];
}

export interface MarketBatch {
  readonly lot: string;
  readonly startedAt: EpochMs;
  /** Null: no forecast. */
  readonly forecast: Finish | null;
}

/** Whether a batch is on the table that day: likely in four years of five, in every other year, not, or nobody can say. */
export type OnTheTable = 'p80' | 'p50' | 'no' | 'unknown';

export interface BatchForMarket {
  readonly lot: string;
  readonly onTheTable: OnTheTable;
  readonly readyP50: EpochMs | null;
  readonly readyP80: EpochMs | null;
  /** Days between the latest finish and the forecast ones; negative: too late by so much. */
  readonly spareDaysP50: number | null;
  readonly spareDaysP80: number | null;
  /** When a batch like this (same duration) would have had to start. */
  readonly latestStartP50: EpochMs | null;
  readonly latestStartP80: EpochMs | null;
}

export interface WorkedBack {
  readonly marketAt: EpochMs;
  /** Local mornings by which: the release is due, pH readings begin, jars are filled, the cure is finished. */
  readonly releaseBy: EpochMs;
  readonly jarBy: EpochMs;
  readonly finishBy: EpochMs;
  readonly batches: readonly BatchForMarket[];
  readonly assumed: readonly string[];
}

const days: ValidRange = { low: 0, high: 400, unit: 'days' };
export const workBackwardsRanges = { restDays: days, phStableDays: { low: 3, high: 60, unit: 'days' }, jarringDays: { low: 0, high: 30, unit: 'days' } } as const satisfies Record<string, ValidRange>;

/**
 * From a market day back to the day a cure must be finished, and which batches make it.
 *
 * market - rest → release; release - pH-stable days → jars; jars - jarring days → latest finish; latest start = latest finish - duration.
 *
 * Source: counting; two weeks of rest are common practice, no source; the pH days come from the packed-jar rule (24 h, then 48 h apart), a week
 * as a whole is an assumption. Rest and pH days are added although they may overlap: nobody rests a lot that has to be mended.
 * P50 and P80 of the finish: `finish-day.ts`. A batch without a forecast is unknown, never "no". It tells bitterness and days, not safety.
 * Example: market 20 December, rest 14, pH 7, jarring 1: jars on 29 November, finished by 28 November.
 */
export const workBackwards = (plan: MarketPlan): Result<WorkedBack, OutsideValidRange> => {
  const { marketAt, zone, restDays = defaultRestDays, phStableDays = defaultPhStableDays, jarringDays = defaultJarringDays } = plan;
  if (!Number.isFinite(marketAt)) return outsideValidRange('marketAt', 'marketAt must be a time');
  const outside = findOutside({ restDays, phStableDays, jarringDays }, workBackwardsRanges);
  if (outside !== null) return outside;
  const market = localDate(marketAt, zone);
  const before = (back: number): EpochMs => localMorning(market.subtract({ days: Math.ceil(back) }), zone);
  const finish = before(restDays + phStableDays + jarringDays);
  const assumed = (['restDays', 'phStableDays', 'jarringDays'] as const).filter((name) => plan[name] === undefined);
  return ok({ marketAt, releaseBy: before(restDays), jarBy: before(restDays + phStableDays), finishBy: finish, batches: plan.batches.map((batch) => forMarket(batch, finish)), assumed });
};

export const defaultPhStableDays = 7;
export const defaultJarringDays = 1;

const forMarket = ({ lot, startedAt, forecast }: MarketBatch, latest: EpochMs): BatchForMarket => {
  const readyP50 = forecast === null ? null : finishBy(startedAt, forecast, 0.5);
  const readyP80 = forecast === null ? null : finishBy(startedAt, forecast, 0.8);
  const spare = (ready: EpochMs | null): number | null => (ready === null ? null : (latest - ready) / dayMs);
  const start = (ready: EpochMs | null): EpochMs | null => (ready === null ? null : latest - (ready - startedAt));
  return {
    lot, onTheTable: onTheTable(readyP50, readyP80, latest), readyP50, readyP80,
    spareDaysP50: spare(readyP50), spareDaysP80: spare(readyP80), latestStartP50: start(readyP50), latestStartP80: start(readyP80),
  };
};

const onTheTable = (readyP50: EpochMs | null, readyP80: EpochMs | null, latest: EpochMs): OnTheTable => {
  if (readyP50 === null) return 'unknown';
  if (readyP50 > latest) return 'no';
  return readyP80 !== null && readyP80 <= latest ? 'p80' : 'p50';
};
