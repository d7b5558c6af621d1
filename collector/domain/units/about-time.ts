import { localDate } from '../cure/stage.ts';
import { weekdayName } from './day-words.ts';
import { minuteMs, type EpochMs } from './time.ts';

/**
 * A local moment as people say it, rounded so that it promises no more than is known: `tomorrow about 15:00`. Without `now`, for words that
 * are kept and read on another day, by its weekday: `on Thursday about 15:00`.
 */
export const aboutTime = (at: EpochMs, now: EpochMs | null, zone: string, toMinutes: number): string => {
  const rounded = Math.round(at / (toMinutes * minuteMs)) * toMinutes * minuteMs;
  const date = localDate(rounded, zone);
  const days = now === null ? null : localDate(Math.round(now), zone).until(date, { largestUnit: 'days' }).days;
  const day = days === 0 ? 'today' : days === 1 ? 'tomorrow' : days === -1 ? 'yesterday' : `on ${weekdayName(date)}`;
  return `${day} about ${Temporal.Instant.fromEpochMilliseconds(rounded).toZonedDateTimeISO(zone).toPlainTime().toString({ smallestUnit: 'minute' })}`;
};
