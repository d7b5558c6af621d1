import type { Batch } from '#domain/journal/shed.ts';
import { segmentsOf, seriesWatching } from '#domain/journal/placement.ts';
import type { TemperatureReading } from '#domain/cure/temperature-dose.ts';
import { disturbedAt } from '#domain/heat/disturbed.ts';
import { drumResponse, type DrumResponse } from '#domain/heat/drum-response.ts';
import { binMs, tenMinuteMeans } from '#domain/heat/ten-minute-means.ts';
import { seriesParts, type SeriesId } from '#domain/reading/reading.ts';
import type { Segment, Span } from '#domain/reading/store.ts';
import { dayMs, hourMs, type EpochMs } from '#domain/units/time.ts';
import type { ShedModel } from './shed-model.ts';
import { viewWhileAway } from './view-while-away.ts';

/** A drum and its air over the last week, in ten-minute means, and how the one follows the other. */
export interface DrumWeek {
  readonly batch: Batch;
  readonly drum: readonly TemperatureReading[];
  readonly air: readonly TemperatureReading[];
  readonly response: DrumResponse;
}

export interface Heat {
  /** Null where there is no fruit in the drum. */
  week(drum: string): Promise<DrumWeek | null>;
  air(drum: string | null): Promise<readonly TemperatureReading[]>;
}

const weekMs = 7 * dayMs;
/** A fit changes little within the hour, and costs a hundred times what a forecast does. */
const keepMs = hourMs;

export const createHeat = (model: ShedModel): Heat => {
  const kept = new Map<string, { readonly batch: Batch; readonly questions: unknown; readonly at: EpochMs; readonly response: DrumResponse }>();

  const means = async (segments: readonly Segment[], span: Span): Promise<readonly TemperatureReading[]> =>
    segments.length === 0 ? [] : tenMinuteMeans((await viewWhileAway(model, segments, span, mostPoints)).points);

  /** The air beside the drum, else the newest of the shed. */
  const airSeries = async (drum: string | null, now: EpochMs): Promise<SeriesId | null> => {
    const own = drum === null ? null : seriesWatching(model.shed(), drum, 'air-temperature', now);
    if (own !== null) return own;
    const all = [...(await model.store.latest()).values()].filter(({ series }) => seriesParts(series).channel === 'air-temperature');
    return all.sort((one, other) => other.at - one.at)[0]?.series ?? null;
  };
  const airOf = async (drum: string | null, now: EpochMs): Promise<readonly TemperatureReading[]> => {
    const series = await airSeries(drum, now);
    const span = spanOf(now - weekMs, now);
    return series === null ? [] : means([{ series, ...span }], span);
  };

  return {
    air: (drum) => airOf(drum, model.clock.now()),
    week: async (id) => {
      const now = model.clock.now();
      const shed = model.shed();
      const drum = shed.drums.get(id);
      const batch = drum?.lot == null ? undefined : shed.batches.get(drum.lot);
      if (drum === undefined || batch === undefined) return null;
      const span = spanOf(Math.max(now - weekMs, batch.startedAt), now);
      const [trace, air] = await Promise.all([means(segmentsOf(shed, id, 'temperature', span), span), airOf(id, now)]);
      const last = kept.get(id);
      if (last?.batch === batch && last.questions === shed.questions && now - last.at < keepMs && now >= last.at) return { batch, drum: trace, air, response: last.response };
      const response = drumResponse({ volumeL: drum.volumeL, insulated: drum.insulated, drum: trace, air, disturbedAt: disturbedAt(shed, batch) });
      kept.set(id, { batch, questions: shed.questions, at: now, response });
      return { batch, drum: trace, air, response };
    },
  };
};

/** Whole bins of the clock, so that stored rollups are read as they are. */
const spanOf = (from: EpochMs, to: EpochMs): Span => ({ from: Math.floor(from / binMs) * binMs, to: Math.max(to, from + 1) });
const mostPoints = Math.ceil(weekMs / binMs) + 10;
