import { describe, expect, it } from 'vitest';
import { clockOffsets, localDays, localMoment, localTime } from '#domain/record/local-time.ts';
import { hourMs } from '#domain/units/time.ts';

describe('local times of a record, without a table of zones', () => {
  // Clocks in the European Union go back on the last Sunday of October, 01:00 UTC (directive 2000/84/EC): 25 October 2026.
  const from = Date.UTC(2026, 9, 20);
  const to = Date.UTC(2026, 10, 1);
  const clock = clockOffsets(from, to, 'Europe/Athens');

  it('tells each change of the clocks once', () => {
    expect(clock).toEqual([{ from: '2026-10-20T00:00:00.000Z', minutes: 180 }, { from: '2026-10-25T01:00:00.000Z', minutes: 120 }]);
    expect(clockOffsets(from, to, 'UTC')).toHaveLength(1);
  });

  it('writes the hour that comes twice with its offset', () => {
    expect(localTime('2026-10-25T00:30:00.000Z', clock)).toEqual({ date: '2026-10-25', time: '03:30', offset: 'UTC+03:00' });
    expect(localTime('2026-10-25T01:30:00.000Z', clock)).toEqual({ date: '2026-10-25', time: '03:30', offset: 'UTC+02:00' });
  });

  it('writes half hours, and west of Greenwich', () => {
    expect(localTime('2026-12-19T22:44:00.000Z', clockOffsets(from, Date.UTC(2026, 11, 31), 'Australia/Adelaide'))).toEqual({ date: '2026-12-20', time: '09:14', offset: 'UTC+10:30' });
    expect(localTime('2026-10-25T00:30:00.000Z', clockOffsets(from, to, 'America/St_Johns'))).toEqual({ date: '2026-10-24', time: '22:00', offset: 'UTC-02:30' });
    expect(localMoment('2026-10-21T21:30:00.000Z', clock)).toBe('2026-10-22 00:30');
  });

  it('cuts a span into local days of 23, 24 or 25 hours, the first and last where it begins and ends', () => {
    const days = localDays(Date.UTC(2026, 9, 24, 12), Date.UTC(2026, 9, 26, 12), 'Europe/Athens');
    expect(days.map(({ day, from: start, to: end }) => [day, (end - start) / hourMs])).toEqual([['2026-10-24', 9], ['2026-10-25', 25], ['2026-10-26', 14]]);
  });
});
