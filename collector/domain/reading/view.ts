import type { EpochMs } from '../units/time.ts';
import { secondMs } from '../units/time.ts';
import { findGaps } from './gaps.ts';
import { addRollup, bucketStart, meanOf, nextBucketStart, startRollup, type Rollup, type RollupLevel } from './rollup.ts';
import type { SeriesId } from './reading.ts';
import { levelMs, levels, type Level, type Point, type Segment, type SeriesView, type Span } from './store.ts';

/** What a view is composed from. A store answers each from an index, oldest first; spans are half-open. */
export interface ViewSource {
  /** From the first stored reading of a series to just after its last; null where nothing is stored. */
  extent(series: SeriesId): Span | null;
  /** How many readings of any quality a span holds; a store may stop counting once past `most` and answer `most + 1`. */
  countReadings(series: SeriesId, span: Span, most: number): number;
  /** Good readings, each as a slice of one. */
  goodReadings(series: SeriesId, span: Span): readonly Slice[];
  /** The rollups whose interval starts in a span. */
  rollups(series: SeriesId, level: RollupLevel, span: Span): readonly Rollup[];
}

/** Good readings of an interval `from <= t < to` of which at least one is good; for a single reading `from` equals `to`. */
export interface Slice extends Rollup {
  readonly to: EpochMs;
}

/** A point may cost this many stored rows: enough to merge ten-minute rows over a cure, few enough to answer in milliseconds. */
const mostRowsPerPoint = 20;
/** Nor may an answer cost more rows than this, however many points are asked (a year has 52,560 ten-minute rows). */
const mostRows = 60_000;

/**
 * Good readings over segments, read at the finest level that stays within the rows above (six hours where none does), and merged
 * into intervals of equal width where it holds more than `points`. The edges of the span and of each segment are exact: what a
 * coarse row would blur there is read from the finer levels. The mean of the points weighted by their counts is the mean of the readings.
 */
export const composeView = (source: ViewSource, segments: readonly Segment[], span: Span, points: number): SeriesView => {
  if (!Number.isSafeInteger(points) || points < 1) throw new RangeError('points must be a whole number, 1 or more');
  const stretches = segments.flatMap((segment) => clip(segment, span));
  const level = chooseLevel(source, stretches, points);
  const slices = stretches.flatMap((stretch) => readSlices(source, stretch, level));
  return { level, points: mergeSlices(slices, level, points), gaps: findGaps(slices, span, levelMs[level]) };
};

const clip = (segment: Segment, span: Span): readonly Segment[] => {
  const from = Math.max(segment.from, span.from);
  const to = Math.min(segment.to, span.to);
  return from < to ? [{ series: segment.series, from, to }] : [];
};

const chooseLevel = (source: ViewSource, stretches: readonly Segment[], points: number): Level => {
  const most = Math.max(points, Math.min(points * mostRowsPerPoint, mostRows));
  let readings = 0;
  let tenMinuteRows = 0;
  for (const stretch of stretches) {
    // Only the time that holds data costs rows: a view of ten years over one stored day is a view of one day.
    const extent = source.extent(stretch.series);
    for (const held of extent === null ? [] : clip(stretch, extent)) {
      if (readings <= most) readings += source.countReadings(held.series, held, most - readings);
      tenMinuteRows += bucketsIn(held, levelMs['10min']);
    }
  }
  if (readings <= most) return 'raw';
  return tenMinuteRows <= most ? '10min' : '6h';
};

const bucketsIn = ({ from, to }: Span, widthMs: number): number => (nextBucketStart(to, widthMs) - bucketStart(from, widthMs)) / widthMs;

const readSlices = (source: ViewSource, stretch: Segment, level: Level): readonly Slice[] => {
  if (level === 'raw') return source.goodReadings(stretch.series, stretch);
  const widthMs = levelMs[level];
  const slices: (Slice & { to: EpochMs })[] = [];
  let current = { ...startRollup(NaN), to: NaN };
  for (const piece of piecesOf(stretch, level)) {
    const rows = piece.level === 'raw' ? source.goodReadings(stretch.series, piece) : source.rollups(stretch.series, piece.level, piece);
    for (const row of rows) {
      const start = bucketStart(row.from, widthMs);
      const from = Math.max(start, stretch.from);
      if (from !== current.from) {
        current = { ...startRollup(from), to: Math.min(start + widthMs, stretch.to) };
        slices.push(current);
      }
      addRollup(current, row);
    }
  }
  return slices;
};

interface Piece extends Span {
  readonly level: Level;
}

/** A span as whole intervals of a level, with the parts of an interval at its ends taken from the next finer level. */
export const piecesOf = (span: Span, level: Level): readonly Piece[] => {
  if (span.from >= span.to) return [];
  const finer = levels[levels.indexOf(level) - 1];
  if (level === 'raw' || finer === undefined) return [{ ...span, level: 'raw' }];
  const from = nextBucketStart(span.from, levelMs[level]);
  const to = bucketStart(span.to, levelMs[level]);
  if (from >= to) return piecesOf(span, finer);
  return [...piecesOf({ from: span.from, to: from }, finer), { from, to, level }, ...piecesOf({ from: to, to: span.to }, finer)];
};

const mergeSlices = (slices: readonly Slice[], level: Level, points: number): readonly Point[] => {
  const first = slices[0];
  const last = slices.at(-1);
  if (first === undefined || last === undefined || slices.length <= points) return slices.map(pointOf);
  const step = level === 'raw' ? secondMs : levelMs[level];
  // Counted from the epoch so that points stay put while a live view slides; such a grid needs one interval more than the width alone
  // would say. With a single point asked there is no grid.
  const widthMs = points === 1 ? null : Math.ceil((last.from - first.from) / ((points - 1) * step)) * step;
  const merged: Rollup[] = [];
  let current = startRollup(first.from);
  let start: EpochMs | null = null;
  for (const slice of slices) {
    const sliceStart = widthMs === null ? first.from : bucketStart(slice.from, widthMs);
    if (sliceStart !== start) {
      start = sliceStart;
      // The point stands where its first reading can be, never inside a gap before it.
      current = startRollup(slice.from);
      merged.push(current);
    }
    addRollup(current, slice);
  }
  return merged.map(pointOf);
};

const pointOf = (rollup: Rollup): Point => ({ t: rollup.from, mean: meanOf(rollup), min: rollup.min, max: rollup.max, count: rollup.count });

