import type { EpochMs } from '#domain/units/time.ts';

/** A wall-clock time some days before today, in the zone of the site: days are counted on the calendar, so daylight saving does not shift them. */
export const localTime = (now: EpochMs, zone: string, daysAgo: number, clock: string): EpochMs =>
  Temporal.Instant.fromEpochMilliseconds(now).toZonedDateTimeISO(zone).subtract({ days: daysAgo }).withPlainTime(clock).epochMilliseconds;

/** The wall clock of the site, `HH:MM`. */
export const wallClock = (at: EpochMs, zone: string): string => Temporal.Instant.fromEpochMilliseconds(at).toZonedDateTimeISO(zone).toPlainTime().toString().slice(0, 5);
