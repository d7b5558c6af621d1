import { describe, expect, it } from 'vitest';
import { localMorning, openStep, stepDays, type Outcomes, type Series } from '#domain/cure/schedule.ts';
import { changeSteps, phSteps } from '#domain/cure/schedules.ts';

const none: Outcomes = { of: () => undefined, standing: () => undefined, claimed: () => false };
const weekly: Series = { lot: 'a', start: Date.parse('2026-10-21T15:00:00Z'), acts: [], after: () => ({ kind: 'change-brine', steps: { afterDays: [], thenEveryDays: [7], source: 'test' } }) };

// The changes of clocks below are those of the IANA time zone database.
describe('local mornings', () => {
  const morning = (date: string, zone: string): string => new Date(localMorning(Temporal.PlainDate.from(date), zone)).toISOString();

  it('are at 08:00 by the clock on the wall on both sides of a change', () => {
    expect(morning('2026-10-24', 'Europe/Rome')).toBe('2026-10-24T06:00:00.000Z');
    expect(morning('2026-10-25', 'Europe/Rome')).toBe('2026-10-25T07:00:00.000Z'); // clocks back at 03:00
    expect(morning('2027-03-28', 'Europe/Rome')).toBe('2027-03-28T06:00:00.000Z'); // clocks forward at 02:00
    expect(morning('2026-10-03', 'Australia/Adelaide')).toBe('2026-10-02T22:30:00.000Z');
    expect(morning('2026-10-04', 'Australia/Adelaide')).toBe('2026-10-03T21:30:00.000Z'); // clocks forward at 02:00, half-hour zone
  });

  it('a week over the change is 169 hours long, not 168', () => {
    const step = openStep(weekly, none, 'Europe/Rome');
    expect(step?.dueAt).toBe(Date.parse('2026-10-28T07:00:00Z'));
    expect((step?.dueAt ?? 0) - Date.parse('2026-10-21T06:00:00Z')).toBe(169 * 3_600_000);
  });

  it('belong to the day of the site, not of UTC', () => {
    const late = { ...weekly, start: Date.parse('2026-10-20T23:30:00Z') }; // the 21st in Rome, the 20th in New York
    expect(new Date(openStep(late, none, 'Europe/Rome')?.dueAt ?? 0).toISOString()).toBe('2026-10-28T07:00:00.000Z');
    expect(new Date(openStep(late, none, 'America/New_York')?.dueAt ?? 0).toISOString()).toBe('2026-10-27T12:00:00.000Z');
  });
});

describe('schedules', () => {
  // Common practice, no source: changed three times in the first week, then weekly.
  it('of changed brine have three changes in the first week, then one a week', () => {
    const steps = changeSteps['changed-brine'].brine;
    if (steps === null) throw new Error('no steps');
    const offsets = [1, 2, 3, 4, 5].reduce<number[]>((days, ordinal) => [...days, (days.at(-1) ?? 0) + stepDays(steps, ordinal)], []);
    expect(offsets).toEqual([2, 4, 6, 13, 20]);
    expect(offsets.filter((day) => day < 7)).toHaveLength(3);
  });

  // Home curing guidance: cracked or slit fruit, water changed at least once a day.
  it('of water are daily', () => expect(changeSteps['water-then-brine'].water?.thenEveryDays).toEqual([1]));

  it('leave kept brine alone', () => expect(changeSteps['kept-brine']).toEqual({ water: null, brine: null }));

  it('measure pH twice a week by turns of three and four days', () => {
    expect([1, 2, 3, 4].map((ordinal) => stepDays(phSteps.falling, ordinal))).toEqual([3, 4, 3, 4]);
  });
});
