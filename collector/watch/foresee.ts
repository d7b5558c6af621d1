import { brineAt } from '#domain/cure/brine.ts';
import { stageAt } from '#domain/cure/stage.ts';
import type { TemperatureReading } from '#domain/cure/temperature-dose.ts';
import { airAhead } from '#domain/heat/air-ahead.ts';
import { dayToDaySdC } from '#domain/heat/day-to-day.ts';
import { disturbedAt } from '#domain/heat/disturbed.ts';
import { enteredAirError, repeatedAirError } from '#domain/heat/drum-ahead.ts';
import { drumHeat, type DrumHeat } from '#domain/heat/drum-heat.ts';
import { drumResponse } from '#domain/heat/drum-response.ts';
import { crossingText, heatCaution, helpText } from '#domain/heat/heat-text.ts';
import { binMs } from '#domain/heat/ten-minute-means.ts';
import type { Shed } from '#domain/journal/shed.ts';
import { channels } from '#domain/reading/channel.ts';
import type { Reading, SeriesId, Slug } from '#domain/reading/reading.ts';
import type { Limit } from '#domain/rules/limit.ts';
import { hourMs, secondMs, type EpochMs } from '#domain/units/time.ts';
import { createBins, keptMs, type Bins } from './bins.ts';
import type { DrumWatch } from './drum.ts';
import type { Ripe } from './ripe.ts';
import type { SeriesWatch } from './series.ts';
import { isLasting, type Slot, type Slots } from './slot.ts';

/** What a ten-minute mean is made of, where readings themselves are not at hand. */
export interface RestoredMean {
  readonly t: EpochMs;
  readonly mean: number;
  readonly count: number;
}

/**
 * The rule of kind `forecast`: a drum will cross a limit of temperature within hours. Each drum is looked at once in ten minutes, from
 * whole ten-minute means only, so that the same readings give the same alert whenever they are looked at. Drums take turns within the
 * ten minutes: two milliseconds each never come together.
 */
export interface Foresight {
  /** A good reading, or the means that stand for many. */
  take(series: SeriesWatch, reading: Pick<Reading, 'at' | 'value'>): void;
  restore(series: SeriesWatch, means: readonly RestoredMean[]): void;
  /** What is kept of a series: whole ten-minute means. */
  means(series: SeriesWatch, from: EpochMs, to: EpochMs): readonly TemperatureReading[];
  follow(drums: ReadonlyMap<Slug, DrumWatch>, slots: Slots, now: EpochMs, restoring: boolean): void;
  ripe(shed: Shed, drums: ReadonlyMap<Slug, DrumWatch>, watched: ReadonlyMap<SeriesId, SeriesWatch>, slots: Slots, now: EpochMs): readonly Ripe[];
}

interface Member {
  readonly slot: Slot;
  readonly limit: Limit;
  lookedAt: EpochMs;
}

export const createForesight = (zone: string): Foresight => {
  const kept = new Map<SeriesId, Bins>();
  const members = new Map<Slug, Member>();
  const binsOf = ({ series, channel }: SeriesWatch): Bins | null => {
    if (channel !== 'temperature' && channel !== 'air-temperature' && channel !== 'ph') return null;
    let bins = kept.get(series);
    if (bins === undefined) kept.set(series, (bins = createBins()));
    return bins;
  };

  const look = (shed: Shed, { drum, batch, limits }: DrumWatch, { slot, limit }: Member, watched: ReadonlyMap<SeriesId, SeriesWatch>, at: EpochMs): DrumHeat | null => {
    const all = [...watched.values()];
    const brine = latestPlaced(all.filter((series) => series.channel === 'temperature' && series.drum === drum.id));
    const air = latestPlaced(all.filter((series) => series.channel === 'air-temperature' && series.drum === drum.id)) ?? newest(all.filter(({ channel }) => channel === 'air-temperature'));
    if (batch === null || brine === null || air === null) return null;
    const trace = kept.get(brine.series)?.means(Math.max(at - keptMs, brine.placedFrom, batch.startedAt), at) ?? [];
    const past = kept.get(air.series)?.means(at - keptMs, at) ?? [];
    const last = trace.at(-1);
    if (last === undefined || at - last.t > oldestStartMs) return null;
    const next = airAhead({ past, now: at, zone, days: shed.airDays }, hoursAhead(limit));
    if (next === null) return null;
    const response = drumResponse({ volumeL: drum.volumeL, insulated: drum.insulated, drum: trace, air: past, disturbedAt: disturbedAt(shed, batch) });
    const airError = next.entered.length > 0 ? enteredAirError : repeatedAirError(dayToDaySdC(past, at));
    return drumHeat({
      ahead: { startC: last.temperatureC, response, air: next.spans, airError, hours: hoursAhead(limit) },
      limits: limitsAhead(limits, last.temperatureC, slot.on.size > 0 ? limit.deadband : 0),
      stage: stageAt(batch, at), brineL: brineAt(batch, at).brineL, fruitKg: batch.fruitKg,
    });
  };

  return {
    take: (series, { at, value }) => {
      // A probe that lies in its box is not kept.
      if (series.drum !== null || series.channel === 'air-temperature') binsOf(series)?.add(at, value, 1);
    },
    restore: (series, means) => {
      for (const { t, mean, count } of means) binsOf(series)?.add(t, mean * count, count);
    },

    means: ({ series }, from, to) => kept.get(series)?.means(from, to) ?? [],

    follow: (drums, slots, now, restoring) => {
      for (const { drum, batch, limits } of drums.values()) {
        const old = members.get(drum.id);
        const limit = limits.find(({ kind, high }) => kind === 'forecast' && high !== null);
        if (limit === undefined || batch === null) {
          if (old !== undefined) slots.clear(old.slot, old.slot, { until: now, at: now, peak: null });
          members.delete(drum.id);
          continue;
        }
        const slot = slots.slot(drum.id, batch.lot, limit, null);
        if (old !== undefined && old.slot !== slot) slots.clear(old.slot, old.slot, { until: now, at: now, peak: null });
        const open = slots.openAlert(slot);
        if (restoring && open !== undefined && isLasting(open)) slot.on.add(slot);
        members.set(drum.id, { slot, limit, lookedAt: old?.slot === slot ? old.lookedAt : 0 });
      }
    },

    ripe: (shed, drums, watched, slots, now) => {
      const ripe: Ripe[] = [];
      for (const [id, member] of members) {
        const bin = Math.floor((now - turnOf(id)) / binMs) * binMs;
        const watch = drums.get(id);
        if (watch === undefined || bin <= member.lookedAt) continue;
        member.lookedAt = bin;
        const { slot } = member;
        const heat = look(shed, watch, member, watched, bin);
        const isOn = slot.on.has(slot);
        if (heat?.crossing == null) {
          if (isOn) ripe.push({ at: now, kind: 'returned', key: slot.key, say: () => slots.clear(slot, slot, { until: now, at: now, peak: null }) });
        } else if (!isOn) {
          const { crossing, helps, points } = heat;
          const said = { now: bin, zone, kept: true };
          const message = {
            text: crossingText({ crossing, outside: null }, said),
            advice: [...(helps.length > 0 ? helps.map((help) => helpText(help, said)) : [crossing.side === 'low' ? 'Move it somewhere milder, or cover it for the night.' : 'Go and look at the drum.']), heatCaution].join(' '),
          };
          const raise = { side: null, since: now, at: now, value: points[0]?.temperatureC ?? null, limitValue: crossing.limitC, unit: 'Cel', message };
          ripe.push({ at: now, kind: 'raised', key: slot.key, say: () => slots.raise(slot, slot, raise) });
        }
      }
      return ripe;
    },
  };
};

const oldestStartMs = 2 * binMs;
const mostHours = 48;
const hoursAhead = ({ high }: Limit): number => Math.min(mostHours, Math.max(1, high ?? mostHours));

/** Each drum has a second of its own within the ten minutes, told by its name: the same after a restart. */
export const turnOf = (drum: Slug): number => {
  let sum = 0;
  for (const letter of drum) sum = (sum * 31 + (letter.codePointAt(0) ?? 0)) % 540;
  return (sum + 5) * secondMs;
};

/**
 * Limits that can still be foretold: of one that a reading with its uncertainty is past, its own rule speaks. While a forecast stands its
 * limits count as nearer by the deadband, so that it does not come and go.
 */
const limitsAhead = (limits: readonly Limit[], startC: number, nearerC: number): readonly Limit[] =>
  limits.flatMap((limit) => {
    if (limit.kind !== 'range' || limit.quantity !== 'temperature') return [];
    const { uncertainty } = channels.temperature;
    const high = limit.high === null || startC + uncertainty > limit.high ? null : limit.high - nearerC;
    const low = limit.low === null || startC - uncertainty < limit.low ? null : limit.low + nearerC;
    return [{ ...limit, high, low }];
  });

const latestPlaced = (series: readonly SeriesWatch[]): SeriesWatch | null => series.toSorted((one, other) => other.placedFrom - one.placedFrom || (one.series < other.series ? -1 : 1))[0] ?? null;

/** Of several air probes the one that spoke within the hour and comes first by name: whoever spoke last changes by the second. */
const newest = (series: readonly SeriesWatch[]): SeriesWatch | null => {
  const hour = (watch: SeriesWatch): number => Math.floor((watch.last?.at ?? 0) / hourMs);
  return series.toSorted((one, other) => hour(other) - hour(one) || (one.series < other.series ? -1 : 1))[0] ?? null;
};
