import type { Channel } from '../reading/channel.ts';
import { channels } from '../reading/channel.ts';
import type { Point, Span } from '../reading/store.ts';
import { hourMs, toRfc3339, type EpochMs } from '../units/time.ts';
import type { HandValue, WatchedQuantity } from './lot-record.ts';

/** What a lot's papers tell of probes: the quantities that limits speak of. */
export const watchedChannels = ['temperature', 'ph', 'salinity'] as const satisfies readonly Channel[];
export type WatchedChannel = (typeof watchedChannels)[number];

/** Good readings of a span as a store sums them up; null where there are none. */
export interface Summed {
  readonly n: number;
  readonly min: number;
  readonly max: number;
  readonly mean: number;
}

/** What the caller reads from the store, for each channel a probe was placed for. */
export interface WatchedInput {
  readonly channel: WatchedChannel;
  readonly probes: readonly string[];
  readonly days: readonly { readonly day: string; readonly from: EpochMs; readonly to: EpochMs; readonly summed: Summed | null; readonly gaps: readonly Span[] }[];
  /** For each stretch of limits, in their order. */
  readonly stretches: readonly (Summed | null)[];
}

export const summedOf = (points: readonly Point[]): Summed | null => {
  if (points.length === 0) return null;
  const n = points.reduce((sum, { count }) => sum + count, 0);
  return {
    n,
    min: Math.min(...points.map(({ min }) => min)),
    max: Math.max(...points.map(({ max }) => max)),
    mean: points.reduce((sum, { mean, count }) => sum + mean * count, 0) / n,
  };
};

export const watchedQuantity = ({ channel, probes, days }: WatchedInput, byHand: readonly HandValue[], reasonOf: (gap: Span) => string | null): WatchedQuantity => {
  const { unit, uncertainty } = channels[channel];
  const gaps = joined(days.flatMap(({ gaps: within }) => within));
  const measured = byHand.filter(({ of, quantity }) => of === 'drum' && quantity === channel);
  return {
    quantity: channel,
    unit,
    uncertainty,
    probes,
    days: days.map(({ day, from, to, summed, gaps: within }) => ({
      day,
      from: toRfc3339(from),
      to: toRfc3339(to),
      n: summed?.n ?? 0,
      min: rounded(summed?.min),
      mean: rounded(summed?.mean),
      max: rounded(summed?.max),
      observed: shareObserved({ from, to }, within),
    })),
    gaps: gaps.map(({ from, to }) => ({ from: toRfc3339(from), to: toRfc3339(to), reason: reasonOf({ from, to }), byHand: measured.filter(({ at }) => Date.parse(at) >= from && Date.parse(at) < to).length })),
    observed: share(days.reduce((sum, { from, to }) => sum + to - from, 0), gaps.reduce((sum, { from, to }) => sum + to - from, 0)),
  };
};

/** A gap over midnight is one gap. */
export const joined = (gaps: readonly Span[]): readonly Span[] => {
  const whole: Span[] = [];
  for (const gap of gaps) {
    const last = whole.at(-1);
    if (last?.to === gap.from) whole[whole.length - 1] = { from: last.from, to: gap.to };
    else whole.push(gap);
  }
  return whole;
};

export const shareObserved = (span: Span, gaps: readonly Span[]): number => share(span.to - span.from, missingMs(span, gaps));

export const longestGapWithin = (spans: readonly Span[], gaps: readonly Span[]): number => Math.max(0, ...spans.flatMap((span) => gaps.map((gap) => missingMs(span, [gap])))) / hourMs;

const missingMs = (span: Span, gaps: readonly Span[]): number => gaps.reduce((sum, { from, to }) => sum + Math.max(0, Math.min(to, span.to) - Math.max(from, span.from)), 0);

/** Rounded down: what was not observed is never rounded away. */
export const share = (wholeMs: number, missing: number): number => (wholeMs <= 0 ? 0 : Math.floor((1 - missing / wholeMs) * 10_000) / 10_000);

/** To a thousandth, and never minus nothing, which JSON does not know. */
export const rounded = (value: number | undefined): number | null => (value === undefined ? null : Math.round(value * 1_000) / 1_000 + 0);
