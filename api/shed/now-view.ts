import type { NowValue as NowShape } from '#contract';
import { isAct, type Batch } from '#domain/journal/shed.ts';
import { seriesWatching } from '#domain/journal/placement.ts';
import { drumChannels, channels, type Channel } from '#domain/reading/channel.ts';
import { nowValue, slopePerHour, type NowValue } from '#domain/reading/now.ts';
import { seriesParts, type SeriesId } from '#domain/reading/reading.ts';
import { allowedSilenceMs, usualIntervalMs } from '#domain/rules/silence.ts';
import { hourMs, toRfc3339 } from '#domain/units/time.ts';
import type { ShedModel } from './shed-model.ts';

/** What is known now of each quantity of a drum, with age and quality. */
const readingsLookedAt = 9;
const trendHours = 2;
const always: readonly Channel[] = ['temperature', 'ph', 'salinity'];

export const drumNow = async (model: ShedModel, drum: string, batch: Batch | null): Promise<Record<Channel, NowShape> | Record<string, NowShape>> => {
  const now = model.clock.now();
  const entries = await Promise.all(
    drumChannels.map(async (channel) => {
      const series = seriesWatching(model.shed(), drum, channel, now);
      if (series === null && !always.includes(channel)) return null;
      return [channel, shape(await seriesNow(model, channel, series, measuredIn(batch, channel)), now)] as const;
    }),
  );
  return Object.fromEntries(entries.filter((entry) => entry !== null));
};

/** The air of the shed: the newest air temperature of any probe. */
export const airNow = async (model: ShedModel): Promise<NowShape> => {
  const latest = [...(await model.store.latest()).values()].filter(({ series }) => seriesParts(series).channel === 'air-temperature').sort((one, other) => other.at - one.at)[0];
  return shape(await seriesNow(model, 'air-temperature', latest?.series ?? null, null), model.clock.now());
};

const seriesNow = async (model: ShedModel, channel: Channel, series: SeriesId | null, measured: { value: number; at: number } | null): Promise<NowValue> => {
  const now = model.clock.now();
  const recent = series === null ? [] : (await model.store.recent(series, readingsLookedAt)).filter(({ at }) => at >= believedFrom(model, series, now));
  const staleAfterMs = allowedSilenceMs(usualIntervalMs(null, recent.map(({ at }) => at)));
  const points = series === null || channels[channel].unit !== 'Cel' ? [] : (await model.store.view([{ series, from: now - trendHours * hourMs, to: now }], { from: now - trendHours * hourMs, to: now }, 12)).points;
  return nowValue({ channel, watched: series !== null, recent, staleAfterMs, measured, trendPerHour: slopePerHour(points) }, now);
};

const measuredIn = (batch: Batch | null, channel: Channel): { value: number; at: number } | null => {
  const act = batch?.acts.filter(isAct('measured')).findLast(({ body }) => body.quantity === channel);
  return act === undefined ? null : { value: act.body.value, at: act.at };
};

const shape = (value: NowValue, now: number): NowShape => ('absent' in value ? value : { ...value, at: toRfc3339(value.at), ageS: Math.max(0, Math.round((now - value.at) / 1_000)) });

/** A probe that came from another drum says nothing about this one before it was moved; a new one's first words are believed at once. */
const believedFrom = (model: ShedModel, series: SeriesId, now: number): number => {
  const past = (model.shed().placements.get(series) ?? []).filter(({ from }) => from <= now);
  return past.slice(0, -1).some(({ drum }) => drum !== null) ? (past.at(-1)?.from ?? 0) : 0;
};
