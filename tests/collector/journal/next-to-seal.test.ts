import { describe, expect, it } from 'vitest';
import { graceMs, nextToSeal } from '#domain/journal/next-to-seal.ts';
import { dayToSealAt, type SealedDay } from '#domain/journal/sealed-days.ts';
import { dayMs, hourMs, toRfc3339 } from '#domain/units/time.ts';
import { createShedBook } from '../../helpers/shed-book.ts';

const zone = 'Europe/Athens';
const at = (text: string): number => Date.parse(text);
const sealed = (from: string, to: string): SealedDay => ({ day: from.slice(0, 10), from: at(from), to: at(to), entries: [2] });
/** 4 May, local. */
const fourth = sealed('2026-05-03T21:00:00Z', '2026-05-04T21:00:00Z');

describe('the day to seal', () => {
  it('is the local day of the first reading, once it is over and its grace is past', () => {
    const first = at('2026-05-04T10:00:00Z');
    const unsealed = { first, firstAfter: first };
    expect(nextToSeal([], unsealed, null, fourth.to + graceMs - 1, zone)).toBeNull();
    expect(nextToSeal([], unsealed, null, fourth.to + graceMs, zone)).toEqual({ day: '2026-05-04', from: fourth.from, to: fourth.to, entries: [], amends: false });
    expect(nextToSeal([], { first: null, firstAfter: null }, null, fourth.to + 9 * dayMs, zone)).toBeNull();
  });

  it('has 23 or 25 hours when the clocks change', () => {
    expect(dayToSealAt([], at('2026-03-29T12:00:00Z'), zone)).toMatchObject({ from: at('2026-03-28T22:00:00Z'), to: at('2026-03-29T21:00:00Z') });
    const autumn = dayToSealAt([], at('2026-10-25T12:00:00Z'), zone);
    expect(autumn.to - autumn.from).toBe(25 * hourMs);
  });

  it('leaves no hour out and takes none twice when the site moves to another zone', () => {
    const adelaide = 'Australia/Adelaide';
    expect(dayToSealAt([fourth], fourth.to, adelaide)).toMatchObject({ from: fourth.to, to: at('2026-05-05T14:30:00Z') });
    expect(dayToSealAt([fourth], fourth.from - 1, adelaide)).toMatchObject({ to: fourth.from });
    expect(dayToSealAt([fourth], fourth.to - 1, adelaide)).toBe(fourth);
  });

  it('may be one that was sealed before, when something came late for it: not more than twice a day', () => {
    const late = { first: fourth.from + 5, firstAfter: fourth.to + hourMs };
    const sealedAt = fourth.to + graceMs;
    expect(nextToSeal([fourth], late, sealedAt, sealedAt + 12 * hourMs - 1, zone)).toBeNull();
    expect(nextToSeal([fourth], late, sealedAt, sealedAt + 12 * hourMs, zone)).toEqual({ ...fourth, amends: true });
    // A day without readings has no seal; when some come late, it gets its first.
    expect(nextToSeal([fourth], { ...late, first: fourth.from - 2 * dayMs }, sealedAt, sealedAt + dayMs, zone)).toMatchObject({ day: '2026-05-02', amends: false });
  });
});

describe('sealed days', () => {
  it('are kept in order, whenever they were sealed, with the entries that seal them', () => {
    const book = createShedBook();
    const seal = (from: string, to: string, amends: boolean): number =>
      book.write('day-sealed', { day: from.slice(0, 10), from: toRfc3339(at(from)), to: toRfc3339(at(to)), amends, blocks: [], head: { sequence: 1, hash: '' }, publicKey: '', signature: '' }, at(to));
    const entries = [seal('2026-05-03T21:00:00Z', '2026-05-04T21:00:00Z', false), seal('2026-05-02T21:00:00Z', '2026-05-03T21:00:00Z', false), seal('2026-05-02T21:00:00Z', '2026-05-03T21:00:00Z', true)];
    const { days, lastAt } = book.shed.seals;
    expect(days.map((day) => [day.from, day.entries])).toEqual([[at('2026-05-02T21:00:00Z'), entries.slice(1)], [fourth.from, entries.slice(0, 1)]]);
    expect(lastAt).toBe(at('2026-05-03T21:00:00Z'));
  });
});
