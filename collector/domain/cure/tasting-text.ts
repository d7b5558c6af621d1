import { dayMonthName, weekdayName } from '../units/day-words.ts';
import type { EpochMs } from '../units/time.ts';
import type { NextTasting } from './next-tasting.ts';
import { localDate } from './stage.ts';

/** Why a tasting falls on its day, as one grower would tell another. */
export const tastingReason = ({ at, notBefore }: Pick<NextTasting, 'at' | 'notBefore'>, now: EpochMs, zone: string): string => {
  const teaches = `A taste ${dayWords(at, now, zone)} teaches most`;
  return Temporal.PlainDate.compare(localDate(notBefore, zone), localDate(now, zone)) > 0 ? `${teaches}; before ${dayName(notBefore, now, zone)} it can hardly be sweet.` : `${teaches}: it may be sweet by now.`;
};

const dayWords = (at: EpochMs, now: EpochMs, zone: string): string => {
  const days = localDate(now, zone).until(localDate(at, zone), { largestUnit: 'days' }).days;
  return days <= 0 ? 'today' : days === 1 ? 'tomorrow' : `on ${dayName(at, now, zone)}`;
};

/** The weekday alone where it can be no other. */
const dayName = (at: EpochMs, now: EpochMs, zone: string): string => {
  const date = localDate(at, zone);
  const days = localDate(now, zone).until(date, { largestUnit: 'days' }).days;
  return days === 1 ? 'tomorrow' : days < 7 ? weekdayName(date) : dayMonthName(date);
};
