import type { EpochMs } from '../units/time.ts';
import { hourMs, minuteMs } from '../units/time.ts';

/** A probe is silent after three of its usual intervals without a reading, and never sooner than ten minutes (assumption). */
export const silentIntervals = 3;
export const leastSilenceMs = 10 * minuteMs;

/**
 * A probe whose pace is not yet known (fewer than two readings) is given two hours before it is called silent: logging every
 * half hour or hour is ample for a drum, and no alert is to be raised for that. Its value still greys after ten minutes (assumption).
 */
export const unknownPaceSilenceMs = 2 * hourMs;

/** How many gaps between readings are looked at: enough that one lost reading or one burst does not count. */
export const gapsLookedAt = 8;

/** The usual time between readings: what the probe announces (SenML update time), else the median of its last gaps; null while unknown. */
export const usualIntervalMs = (announcedMs: number | null, lastTimes: readonly EpochMs[]): number | null => {
  if (announcedMs !== null) return announcedMs;
  const gaps = lastTimes.slice(-(gapsLookedAt + 1)).flatMap((at, index, times) => (index === 0 ? [] : [at - (times[index - 1] ?? at)]));
  if (gaps.length === 0) return null;
  const sorted = gaps.toSorted((one, other) => one - other);
  const middle = Math.floor(sorted.length / 2);
  const upper = sorted[middle] ?? 0;
  return sorted.length % 2 === 1 ? upper : ((sorted[middle - 1] ?? upper) + upper) / 2;
};

/** How long a series may say nothing before it counts as silent. */
export const allowedSilenceMs = (intervalMs: number | null, leastMs: number = leastSilenceMs): number => Math.max(silentIntervals * (intervalMs ?? 0), leastMs);

/** A value older than its probe is allowed to be silent is no longer current: it is shown grey, with its age. */
export const isStale = (lastAt: EpochMs, intervalMs: number | null, now: EpochMs): boolean => now - lastAt > allowedSilenceMs(intervalMs);

/** How long before silence is announced: as above, but with patience for a probe whose pace is not known. */
export const announcedSilenceMs = (intervalMs: number | null, leastMs: number): number => (intervalMs === null ? Math.max(unknownPaceSilenceMs, leastMs) : allowedSilenceMs(intervalMs, leastMs));

/**
 * The moment a series counts as silent. Whoever has only just begun to listen first gives it two intervals (a minute at least), so that
 * a restart or an outage of the collector is not taken for one of the probe.
 */
export const silentAt = (lastAt: EpochMs, intervalMs: number | null, listeningSince: EpochMs, leastMs: number = leastSilenceMs): EpochMs =>
  Math.max(lastAt + announcedSilenceMs(intervalMs, leastMs), listeningSince + Math.max(2 * (intervalMs ?? 0), minuteMs));
