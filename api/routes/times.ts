import { minuteMs, type EpochMs } from '#domain/units/time.ts';
import { unfit } from '../errors.ts';

/** Clocks of phones differ a little; further ahead than this something has not happened yet. */
const mostAheadMs = 10 * minuteMs;

/** A date is its first moment in the zone of the site. */
export const dayOrTimeMs = (given: string, zone: string): EpochMs => (given.length === 10 ? Temporal.PlainDate.from(given).toZonedDateTime({ timeZone: zone }).epochMilliseconds : Date.parse(given));

/** The moment somebody says something happened; refused when it lies ahead. */
export const happenedAt = (path: string, time: string, now: EpochMs): EpochMs => {
  const at = Date.parse(time);
  if (at > now + mostAheadMs) throw unfit(path, 'lies in the future');
  return at;
};
