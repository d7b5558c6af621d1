import type { Channel } from '../reading/channel.ts';
import type { SeriesId, Slug } from '../reading/reading.ts';
import { seriesId } from '../reading/reading.ts';
import type { Segment, Span } from '../reading/store.ts';
import type { EpochMs } from '../units/time.ts';
import type { Batch, Shed } from './shed.ts';

/** Which drum a series watches at a time; null: none. */
export const drumWatchedBy = (shed: Pick<Shed, 'placements'>, series: SeriesId, at: EpochMs): Slug | null =>
  shed.placements.get(series)?.findLast(({ from }) => from <= at)?.drum ?? null;

/**
 * The series that tell about one channel of a drum over time: sorted, not overlapping. Where two probes watch the same drum,
 * the one placed later is believed from then on; where that one leaves, the other is believed again.
 */
export const segmentsOf = (shed: Pick<Shed, 'placements'>, drum: Slug, channel: Channel, span: Span): readonly Segment[] => {
  const watches = watchesOf(shed, drum, channel).filter(({ from, to }) => from < span.to && to > span.from);
  const edges = [...new Set([span.from, span.to, ...watches.flatMap(({ from, to }) => [from, to])])].filter((at) => at >= span.from && at <= span.to).sort((one, other) => one - other);
  const segments: Segment[] = [];
  for (let index = 0; index + 1 < edges.length; index += 1) {
    const from = edges[index] ?? 0;
    const to = edges[index + 1] ?? 0;
    const best = watches.filter((watch) => watch.from <= from && watch.to >= to).sort((one, other) => other.from - one.from)[0];
    const last = segments.at(-1);
    if (best === undefined) continue;
    if (last?.series === best.series && last.to === from) segments[segments.length - 1] = { ...last, to };
    else segments.push({ series: best.series, from, to });
  }
  return segments;
};

/** As `segmentsOf`, for a batch: in the drum where it lay at each time. */
export const segmentsOfBatch = (shed: Pick<Shed, 'placements'>, { stays }: Pick<Batch, 'stays'>, channel: Channel, span: Span): readonly Segment[] =>
  stays.flatMap(({ drum, from, to }) => {
    const within = { from: Math.max(from, span.from), to: Math.min(to ?? span.to, span.to) };
    return within.from < within.to ? segmentsOf(shed, drum, channel, within) : [];
  });

/** The drum a batch lay in at a time; null: in none. */
export const drumOfBatchAt = ({ stays }: Pick<Batch, 'stays'>, at: EpochMs): Slug | null => stays.findLast(({ from, to }) => from <= at && (to === null || at < to))?.drum ?? null;

/** The series that watches a channel of a drum at a time, the one placed last; null: none. */
export const seriesWatching = (shed: Pick<Shed, 'placements'>, drum: Slug, channel: Channel, at: EpochMs): SeriesId | null =>
  watchesOf(shed, drum, channel)
    .filter(({ from, to }) => from <= at && at < to)
    .sort((one, other) => other.from - one.from)[0]?.series ?? null;

const watchesOf = (shed: Pick<Shed, 'placements'>, drum: Slug, channel: Channel): readonly Segment[] => {
  const watches: Segment[] = [];
  for (const placements of shed.placements.values()) {
    placements.forEach((placement, index) => {
      if (placement.drum !== drum || placement.channel !== channel) return;
      watches.push({ series: seriesId(placement.probe, channel), from: placement.from, to: placements[index + 1]?.from ?? Number.POSITIVE_INFINITY });
    });
  }
  return watches;
};
