import { describe, expect, it } from 'vitest';
import { readTime } from '#domain/logger/read-time.ts';

const rome = 'Europe/Rome';
const utc = (text: string): number => Date.parse(text);

describe('the time of a logger', () => {
  it.each([
    ['2026-05-03T06:30:00Z', 'iso', '2026-05-03T06:30:00Z'],
    ['2026-05-03T06:30:00+02:00', 'iso', '2026-05-03T04:30:00Z'],
    ['2026-05-03 06:30', 'iso', '2026-05-03T04:30:00Z'],
    ['2026/05/03 06:30:15.250', 'iso', '2026-05-03T04:30:15.250Z'],
    ['2026-05-03', 'iso', '2026-05-02T22:00:00Z'],
    ['03.05.2026 06:30', 'day-month-year', '2026-05-03T04:30:00Z'],
    ['3/5/26 06:30', 'day-month-year', '2026-05-03T04:30:00Z'],
    ['05/03/2026 06:30:00 PM', 'month-day-year', '2026-05-03T16:30:00Z'],
    ['05/03/2026 12:05 am', 'month-day-year', '2026-05-02T22:05:00Z'],
    ['1777789800', 'epoch-s', '2026-05-03T06:30:00Z'],
    ['1777789800000', 'epoch-ms', '2026-05-03T06:30:00Z'],
  ] as const)('%s, read as %s', (text, format, expected) => {
    expect(readTime(text, format, rome, null)).toEqual({ ok: true, value: utc(expected) });
  });

  it('of one figure is two days, by which of them comes first', () => {
    expect(readTime('03/05/2026 10:00', 'day-month-year', 'UTC', null)).toEqual({ ok: true, value: utc('2026-05-03T10:00:00Z') });
    expect(readTime('03/05/2026 10:00', 'month-day-year', 'UTC', null)).toEqual({ ok: true, value: utc('2026-03-05T10:00:00Z') });
  });

  it.each([['31.04.2026 10:00', 'day-month-year'], ['2026-05-03 25:00', 'iso'], ['13/05/2026 14:00 PM', 'day-month-year'], ['', 'iso'], ['yesterday', 'iso'], ['17777', 'epoch-s']] as const)('%s is none', (text, format) => {
    expect(readTime(text, format, rome, null)).toEqual({ ok: false, error: 'not-a-time' });
  });

  // Directive 2000/84/EC: clocks go forward on the last Sunday of March and back on that of October, at 01:00 UTC.
  it('does not invent the hour that spring leaves out, and knows the second of the two in autumn', () => {
    expect(readTime('2026-03-29 02:30', 'iso', rome, null)).toEqual({ ok: false, error: 'time-skipped' });
    expect(readTime('2026-03-29 02:30', 'iso', '+01:00', null)).toEqual({ ok: true, value: utc('2026-03-29T01:30:00Z') });
    const first = readTime('2026-10-25 02:30', 'iso', rome, utc('2026-10-25T00:20:00Z'));
    expect(first).toEqual({ ok: true, value: utc('2026-10-25T00:30:00Z') });
    expect(readTime('2026-10-25 02:00', 'iso', rome, utc('2026-10-25T00:50:00Z'))).toEqual({ ok: true, value: utc('2026-10-25T01:00:00Z') });
  });
});
