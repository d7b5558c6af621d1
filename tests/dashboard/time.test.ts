import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { age, ago } from '../../dashboard/format/age.ts';
import { clockTime, dayMonth, daySpan, dueDay, fromLocal, fromLocalField, localField, longDay, pastMoment, startOfDay } from '../../dashboard/format/time.ts';
import { timeTicks } from '../../dashboard/charts/time-ticks.ts';

const zone = 'Australia/Adelaide';
const now = Date.parse('2027-06-11T04:54:00Z');
const plain = (text: string): string => text.replaceAll('\u00a0', ' ');

describe('times in the zone of the site', () => {
  it('tells the wall clock of the shed, not of the browser', () => {
    // Adelaide in winter is UTC+9:30 (tz database); the test process runs in UTC.
    expect(clockTime(now, zone)).toBe('14:24');
    expect(plain(longDay(now, zone))).toBe('Fri 11 June');
    expect(plain(dayMonth(Date.parse('2027-05-02T20:00:00Z'), zone))).toBe('3 May');
  });

  it('shortens a span within one month', () => {
    const at = (text: string): number => Date.parse(`${text}T03:00:00Z`);
    expect(plain(daySpan(at('2027-06-18'), at('2027-06-29'), zone))).toBe('18 – 29 Jun');
    expect(plain(daySpan(at('2027-06-28'), at('2027-07-03'), zone))).toBe('28 Jun – 3 Jul');
    expect(plain(daySpan(at('2027-06-28'), at('2027-06-28'), zone))).toBe('28 Jun');
  });

  it('finds local midnight on both sides of a change of clocks', () => {
    // tz database: Adelaide ends summer time on Sunday 4 April 2027 and begins it on Sunday 3 October 2027.
    expect(new Date(fromLocal(zone, 2027, 4, 4)).toISOString()).toBe('2027-04-03T13:30:00.000Z');
    expect(new Date(fromLocal(zone, 2027, 4, 5)).toISOString()).toBe('2027-04-04T14:30:00.000Z');
    expect(new Date(fromLocal(zone, 2027, 10, 3)).toISOString()).toBe('2027-10-02T14:30:00.000Z');
    expect(new Date(fromLocal(zone, 2027, 10, 4)).toISOString()).toBe('2027-10-03T13:30:00.000Z');
    expect(startOfDay(Date.parse('2027-10-03T05:00:00Z'), zone)).toBe(Date.parse('2027-10-02T14:30:00Z'));
  });

  it('gives back to a field what the field said, in every zone', () => {
    fc.assert(
      fc.property(fc.integer({ min: Date.parse('2020-01-01'), max: Date.parse('2035-01-01') }), fc.constantFrom(zone, 'UTC', 'America/New_York', 'Asia/Kathmandu'), (t, where) => {
        const field = localField(t, where);
        const back = fromLocalField(field, where);
        // The one hour that happens twice in autumn may come back as its twin.
        expect(back === null ? null : localField(back, where)).toBe(field);
      }),
    );
    expect(fromLocalField('', zone)).toBeNull();
  });

  it('names a past moment as briefly as it is clear', () => {
    expect(pastMoment(now - 2 * 3_600_000, now, zone)).toBe('12:24');
    expect(pastMoment(now - 26 * 3_600_000, now, zone)).toBe('Thu 12:24');
    expect(plain(pastMoment(now - 20 * 86_400_000, now, zone))).toBe('22 May 14:24');
  });

  it('tells when something is due in local days', () => {
    const in_ = (hours: number): string => plain(dueDay(now + hours * 3_600_000, now, zone));
    expect(in_(9)).toBe('today');
    expect(in_(10)).toBe('tomorrow');
    expect(in_(6 * 24)).toBe('Thursday');
    expect(in_(20 * 24)).toBe('1 Jul');
    expect(in_(-20)).toBe('since yesterday');
    expect(in_(-50)).toBe('since 9 Jun');
  });

  it('gives an age in the one unit that matters', () => {
    expect(ago(7_000)).toBe('7 s ago');
    expect(age(12 * 60_000)).toBe('12 min');
    expect(age(5 * 3_600_000)).toBe('5 h');
    expect(age(3 * 86_400_000)).toBe('3 days');
    expect(age(-4_000)).toBe('0 s');
  });
});

describe('ticks of the chart', () => {
  it('stand at round local hours of the site', () => {
    const ticks = timeTicks(now - 24 * 3_600_000, now, zone, 8);
    expect(ticks.length).toBeGreaterThan(5);
    expect(ticks.length).toBeLessThanOrEqual(9);
    for (const { value } of ticks) expect(clockTime(value, zone)).toMatch(/:00$/);
    expect(ticks.some(({ label }) => plain(label) === 'Fri 11 Jun')).toBe(true);
  });

  it('begin each day at midnight, also a day of 25 hours', () => {
    const from = Date.parse('2027-04-02T13:30:00Z');
    const labels = timeTicks(from, from + 4 * 86_400_000, zone, 5);
    expect(new Set(labels.map(({ value }) => clockTime(value, zone)))).toEqual(new Set(['00:00']));
  });

  it('never crowd', () => {
    fc.assert(
      fc.property(fc.integer({ min: 30 * 60_000, max: 300 * 86_400_000 }), fc.integer({ min: 2, max: 20 }), (length, most) => {
        expect(timeTicks(now - length, now, zone, most).length).toBeLessThanOrEqual(most + 3);
      }),
    );
  });
});
