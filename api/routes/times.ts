import { minuteMs, type EpochMs } from '#domain/units/time.ts';
import { unfit } from '../errors.ts';

/** Clocks of phones differ a little; further ahead than this something has not happened yet. */
const mostAheadMs = 10 * minuteMs;

/** The moment somebody says something happened; refused when it lies ahead. */
export const happenedAt = (path: string, time: string, now: EpochMs): EpochMs => {
  const at = Date.parse(time);
  if (at > now + mostAheadMs) throw unfit(path, 'lies in the future');
  return at;
};
