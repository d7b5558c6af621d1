import { localDays } from '#domain/record/local-time.ts';
import type { LimitStretch } from '#domain/record/stretches.ts';
import { summedOf, watchedChannels, type WatchedInput } from '#domain/record/watched.ts';
import { segmentsOfBatch } from '#domain/journal/placement.ts';
import type { Batch } from '#domain/journal/shed.ts';
import { seriesParts, type SeriesId } from '#domain/reading/reading.ts';
import type { EpochMs } from '#domain/units/time.ts';
import type { ShedModel } from './shed-model.ts';

/** So many points of a day are asked that it is read from rows of ten minutes, or from the readings where they are few. */
const pointsOfDay = 8;

export interface RecordReadings {
  readonly watched: readonly WatchedInput[];
  readonly series: readonly SeriesId[];
}

/**
 * What probes told of a lot, summed up day by day and limit by limit: the store is asked for one day at a time, so that a season of
 * readings costs no more room than a week.
 */
export const recordReadings = async (model: ShedModel, batch: Batch, stretches: readonly LimitStretch[], until: EpochMs): Promise<RecordReadings> => {
  const shed = model.shed();
  const watched: WatchedInput[] = [];
  const series = new Set<SeriesId>();
  for (const channel of watchedChannels) {
    const segments = segmentsOfBatch(shed, batch, channel, { from: batch.startedAt, to: until });
    if (segments.length === 0) continue;
    for (const segment of segments) series.add(segment.series);
    const days: WatchedInput['days'][number][] = [];
    for (const day of localDays(batch.startedAt, until, model.zone)) {
      const { points, gaps } = await model.store.view(segments, day, pointsOfDay);
      days.push({ ...day, summed: summedOf(points), gaps });
    }
    const limited: WatchedInput['stretches'][number][] = [];
    for (const stretch of stretches) limited.push(summedOf((await model.store.view(segments, stretch, 1)).points));
    watched.push({ channel, probes: [...new Set(segments.map((segment) => seriesParts(segment.series).probe))], days, stretches: limited });
  }
  return { watched, series: [...series] };
};
