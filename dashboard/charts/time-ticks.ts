import { dayMs, hourMs, minuteMs } from '#contract';
import { calendarDay, clockTime, dayMonth, fromLocal, weekdayShort } from '../format/time.ts';

/** Ticks of a time axis at round local times of the site, whatever zone the browser is in. */
export interface TimeTick {
  readonly value: number;
  readonly label: string;
}

const withinDay = [5 * minuteMs, 15 * minuteMs, 30 * minuteMs, hourMs, 3 * hourMs, 6 * hourMs, 12 * hourMs];
const wholeDays = [1, 2, 7, 14, 28];

export const timeTicks = (from: number, to: number, zone: string, most: number): readonly TimeTick[] => {
  const wanted = (to - from) / Math.max(most, 1);
  const first = calendarDay(from, zone);
  const short = withinDay.find((every) => every >= wanted);
  const ticks: TimeTick[] = [];
  if (short !== undefined) {
    // Counted from each local midnight, so that a day of 23 or 25 hours still begins at 00:00.
    for (let day = 0; ; day += 1) {
      const midnight = fromLocal(zone, first.year, first.month, first.day + day);
      if (midnight > to) break;
      const next = fromLocal(zone, first.year, first.month, first.day + day + 1);
      for (let value = midnight; value < next; value += short) {
        if (value < from || value > to) continue;
        ticks.push({ value, label: value === midnight ? `${weekdayShort(value, zone)} ${dayMonth(value, zone)}` : clockTime(value, zone) });
      }
    }
    return ticks;
  }
  const every = wholeDays.find((days) => days * dayMs >= wanted) ?? 56;
  for (let day = 0; ; day += every) {
    const value = fromLocal(zone, first.year, first.month, first.day + day);
    if (value > to) break;
    if (value >= from) ticks.push({ value, label: dayMonth(value, zone) });
  }
  return ticks;
};
