import { fail, ok, type Result } from '../result.ts';
import type { EpochMs } from '../units/time.ts';
import type { TimeFormat } from './mapping.ts';

const iso = /^(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})(?:[T ]+(.*))?$/;
const endsInYear = /^(\d{1,2})[-/.](\d{1,2})[-/.](\d{2}|\d{4})(?:[T, ]+(.*))?$/;
const clock = /^(\d{1,2})[:.](\d{2})(?:[:.](\d{2})(?:[.,](\d{1,9}))?)?\s*([ap])?\.?m?\.?\s*(Z|[+-]\d{2}:?\d{2})?$/i;

/**
 * One time as a logger writes it. A time without an offset is a local one: in the hour that autumn repeats the first is meant, unless
 * the row before (`after`) was later; in the hour that spring leaves out there is no such time, and none is invented.
 */
export const readTime = (text: string, format: TimeFormat, zone: string, after: EpochMs | null): Result<EpochMs, 'not-a-time' | 'time-skipped'> => {
  const trimmed = text.trim();
  if (format === 'epoch-s' || format === 'epoch-ms') {
    if (!/^\d{9,13}(\.\d+)?$/.test(trimmed)) return fail('not-a-time');
    return ok(Math.round(Number(trimmed) * (format === 'epoch-s' ? 1_000 : 1)));
  }
  const match = (format === 'iso' ? iso : endsInYear).exec(trimmed);
  if (match === null) return fail('not-a-time');
  const [, first = '', second = '', third = '', rest = '00:00'] = match;
  const [year, month, day] = format === 'iso' ? [first, second, third] : format === 'day-month-year' ? [third, second, first] : [third, first, second];
  const time = clock.exec(rest.trim());
  if (time === null) return fail('not-a-time');
  const [, hour = '', minute = '', seconds = '0', fraction = '', half, offset] = time;
  const hours = hourOfDay(Number(hour), half);
  if (hours === null) return fail('not-a-time');
  const fields = { year: fullYear(Number(year)), month: Number(month), day: Number(day), hour: hours, minute: Number(minute), second: Number(seconds), millisecond: Math.floor(Number(`0.${fraction || '0'}`) * 1_000) };
  try {
    const local = Temporal.PlainDateTime.from(fields, { overflow: 'reject' });
    if (offset !== undefined) return ok(local.toZonedDateTime(offset === 'Z' || offset === 'z' ? 'UTC' : withColon(offset)).epochMilliseconds);
    const early = local.toZonedDateTime(zone, { disambiguation: 'earlier' });
    if (!early.toPlainDateTime().equals(local)) return fail('time-skipped');
    const late = local.toZonedDateTime(zone, { disambiguation: 'later' });
    return ok(after !== null && early.epochMilliseconds <= after ? late.epochMilliseconds : early.epochMilliseconds);
  } catch {
    return fail('not-a-time');
  }
};

const hourOfDay = (hour: number, half: string | undefined): number | null => {
  if (half === undefined) return hour <= 23 ? hour : null;
  if (hour < 1 || hour > 12) return null;
  return (hour % 12) + (half.toLowerCase() === 'p' ? 12 : 0);
};

const fullYear = (year: number): number => (year < 100 ? 2_000 + year : year);

const withColon = (offset: string): string => (offset.includes(':') ? offset : `${offset.slice(0, 3)}:${offset.slice(3)}`);
