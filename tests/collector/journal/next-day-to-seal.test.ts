import { describe, expect, it } from 'vitest';
import { graceMs, nextDayToSeal } from '#domain/journal/next-day-to-seal.ts';
import { hourMs } from '#domain/units/time.ts';

const zone = 'Europe/Athens';
const at = (text: string): number => Date.parse(text);

describe('the next day to seal', () => {
  it('is the local day of the first reading, once it is over and its grace is past', () => {
    const first = at('2026-05-03T10:00:00Z');
    const end = at('2026-05-03T21:00:00Z');
    expect(nextDayToSeal(null, first, end + graceMs - 1, zone)).toBeNull();
    expect(nextDayToSeal(null, first, end + graceMs, zone)).toEqual({ day: '2026-05-03', from: at('2026-05-02T21:00:00Z'), to: end });
  });

  it('has 23 or 25 hours when the clocks change', () => {
    const far = at('2027-01-01T00:00:00Z');
    const spring = nextDayToSeal(at('2026-03-28T22:00:00Z'), null, far, zone);
    const autumn = nextDayToSeal(at('2026-10-24T21:00:00Z'), null, far, zone);
    expect(spring).toMatchObject({ day: '2026-03-29', to: at('2026-03-29T21:00:00Z') });
    expect((spring?.to ?? 0) - (spring?.from ?? 0)).toBe(23 * hourMs);
    expect(autumn).toMatchObject({ day: '2026-10-25' });
    expect((autumn?.to ?? 0) - (autumn?.from ?? 0)).toBe(25 * hourMs);
  });

  it('begins where the last one ended, also after the site moved to another zone', () => {
    const until = at('2026-05-03T21:00:00Z');
    expect(nextDayToSeal(until, null, until + 100 * hourMs, 'Australia/Adelaide')).toEqual({ day: '2026-05-04', from: until, to: at('2026-05-04T14:30:00Z') });
  });

  it('is none where there is no reading', () => {
    expect(nextDayToSeal(null, null, at('2026-05-03T10:00:00Z'), zone)).toBeNull();
  });
});
