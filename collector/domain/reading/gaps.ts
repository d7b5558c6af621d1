import type { EpochMs } from '../units/time.ts';
import { minuteMs } from '../units/time.ts';
import type { Rollup } from './rollup.ts';
import type { Span } from './store.ts';

/** Shorter silences are ordinary jitter of probes and brokers (assumption). */
const shortestGapMs = 10 * minuteMs;
/** So many usual spacings without a good reading are a gap rather than a late reading (assumption). */
const spacings = 3;

/**
 * Stretches of a span without a good reading, its beginning and end included: longer than three usual spacings, than two intervals of
 * the level read (a shorter silence cannot be told from the edges of intervals) and than ten minutes.
 * Within an interval a reading may be anywhere, so a gap begins where the interval ends and is never longer than the true silence.
 */
export const findGaps = (slices: readonly (Rollup & { readonly to: EpochMs })[], span: Span, levelWidthMs: number): readonly Span[] => {
  const longestOrdinaryMs = Math.max(spacings * usualSpacingMs(slices), 2 * levelWidthMs, shortestGapMs);
  const gaps: Span[] = [];
  let heardUntil = span.from;
  for (const slice of slices) {
    if (slice.from - heardUntil > longestOrdinaryMs) gaps.push({ from: heardUntil, to: slice.from });
    heardUntil = Math.max(heardUntil, slice.to);
  }
  if (span.to - heardUntil > longestOrdinaryMs) gaps.push({ from: heardUntil, to: span.to });
  return gaps;
};

/** Median time between readings; a slice of many readings gives the time to the next slice divided by them. 0 where it cannot be known. */
const usualSpacingMs = (slices: readonly Rollup[]): number => {
  if (slices.length < 2) return 0;
  const spacingsMs = new Float64Array(slices.length - 1);
  for (const [index] of spacingsMs.entries()) {
    const slice = slices[index];
    const next = slices[index + 1];
    if (slice !== undefined && next !== undefined) spacingsMs[index] = (next.from - slice.from) / slice.count;
  }
  spacingsMs.sort();
  const middle = spacingsMs.length >> 1;
  const upper = spacingsMs[middle] ?? 0;
  return spacingsMs.length % 2 === 1 ? upper : ((spacingsMs[middle - 1] ?? upper) + upper) / 2;
};
