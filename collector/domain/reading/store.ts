import type { EpochMs } from '../units/time.ts';
import type { Reading, SeriesId } from './reading.ts';

/** What became of each reading of a batch, in the order given. */
export const appended = { stored: 0, duplicate: 1, conflict: 2 } as const;

/** `outcomes[i]` is one of `appended`. A conflict is a different value for a stored time: the first value is kept. */
export interface AppendOutcome {
  readonly outcomes: Uint8Array;
  readonly stored: number;
  readonly duplicates: number;
  readonly conflicts: number;
}

/** The steps in which stored readings can be read: every reading, or rollups of good readings. */
export const levels = ['raw', '10min', '6h'] as const;
export type Level = (typeof levels)[number];
export const levelMs = { raw: 0, '10min': 600_000, '6h': 21_600_000 } as const satisfies Record<Level, number>;

export interface Point {
  /** Start of the interval (or time of the reading), epoch ms. */
  readonly t: EpochMs;
  readonly mean: number;
  readonly min: number;
  readonly max: number;
  readonly count: number;
}

export interface Span {
  readonly from: EpochMs;
  readonly to: EpochMs;
}

/** A stretch of time during which one series watched what is asked for; segments come sorted and do not overlap. */
export interface Segment extends Span {
  readonly series: SeriesId;
}

export interface SeriesView {
  /** What the points were read from; where that holds more than was asked for, neighbours are merged. */
  readonly level: Level;
  /** Never more than asked for; intervals without a good reading are left out, not interpolated. */
  readonly points: readonly Point[];
  readonly gaps: readonly Span[];
}

export interface SeriesSummary {
  readonly series: SeriesId;
  readonly count: number;
  readonly first: Reading;
  readonly last: Reading;
}

/**
 * Where readings are kept. Three members (memory, SQLite, InfluxDB) pass one conformance suite.
 * Times are half-open: `from <= t < to`. Nothing here reads a clock. A call the machine under it fails rejects with a `StoreFailure`.
 */
export interface ReadingStore {
  /** Resolves when every reading is durable. Idempotent by series and time. */
  append(readings: readonly Reading[]): Promise<AppendOutcome>;
  /** The newest reading of each series asked for (of all series without an argument), whatever its quality. */
  latest(series?: readonly SeriesId[]): Promise<ReadonlyMap<SeriesId, Reading>>;
  /** The last `count` readings of a series before `before`, oldest first. */
  recent(series: SeriesId, count: number, before?: EpochMs): Promise<readonly Reading[]>;
  /** Every stored reading in a span, oldest first, at most `limit`. */
  raw(series: SeriesId, span: Span, limit: number): Promise<readonly Reading[]>;
  /** Good readings over segments in at most `points` points, from the finest level that keeps the work small, with gaps. */
  view(segments: readonly Segment[], span: Span, points: number): Promise<SeriesView>;
  summaries(): Promise<readonly SeriesSummary[]>;
  close(): Promise<void>;
}
