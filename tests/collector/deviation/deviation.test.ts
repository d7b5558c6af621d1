import { describe, expect, it } from 'vitest';
import { closingOf } from '#domain/deviation/deviation.ts';
import { deviationsOfLot, openDeviationsOf } from '#domain/deviation/of-lot.ts';
import type { EntryBodies } from '#domain/journal/entry.ts';
import { dayMs, hourMs, toRfc3339, type EpochMs } from '#domain/units/time.ts';
import { createShedBook, openDrum, type ShedBook } from '../../helpers/shed-book.ts';

/** Departures are kept in a log of their own (21 CFR 114.100 (c)), each ending in what becomes of the product (21 CFR 114.89). */
const start = Date.UTC(2026, 9, 1);
const opened = (): { book: ShedBook; lot: string } => {
  const book = createShedBook();
  return { book, lot: openDrum(book, start) };
};
const raise = (book: ShedBook, lot: string | null, at: EpochMs, over: Partial<EntryBodies['alert-raised']> = {}): void => {
  const body = { id: 'w1', rule: 'ferment-temperature-danger', drum: 'barrel-1', lot, quantity: 'temperature', priority: 'high', since: toRfc3339(at), at: toRfc3339(at), value: 31, limit: { value: 30, unit: 'Cel', source: 's', side: 'high' }, text: 't', advice: 'a', ...over } as const;
  book.write('alert-raised', body, at);
};
const back = (book: ShedBook, at: EpochMs, peak: number, id = 'w1'): number => book.write('alert-returned', { id, until: toRfc3339(at), at: toRfc3339(at), peak }, at);
const numbers = (book: ShedBook): string[] => book.shed.deviations.map(({ number }) => number);

describe('the log of deviations', () => {
  it('numbers each excursion of a critical limit without holes, and follows it to its end', () => {
    const { book, lot } = opened();
    raise(book, lot, start + hourMs);
    back(book, start + 3 * hourMs, 33);
    raise(book, lot, start + 5 * hourMs);
    expect(numbers(book)).toEqual(['D-1', 'D-2']);
    expect(book.shed.deviations).toMatchObject([{ lot, from: start + hourMs, to: start + 3 * hourMs, worst: 33 }, { from: start + 5 * hourMs, to: null }]);
  });
  it('takes an alert that is raised again while outside as the same deviation', () => {
    const { book, lot } = opened();
    raise(book, lot, start + hourMs);
    raise(book, lot, start + 2 * hourMs, { value: 34 });
    expect(numbers(book)).toEqual(['D-1']);
  });
  it.each([['a caution', { priority: 'medium', rule: 'ferment-temperature-high' }], ['silence', { rule: 'temperature-silent' }], ['a drum without a lot', { lot: null }], ['a rule nobody knows', { rule: 'r' }]] as const)('leaves out %s', (_, over) => {
    const { book, lot } = opened();
    raise(book, lot, start + hourMs, over);
    expect(numbers(book)).toEqual([]);
  });

  const jar = (book: ShedBook, lot: string, days: number, value: number, instrument = 'meter-1'): number => book.write('jar-ph', { lot, at: toRfc3339(start + days * dayMs), value, instrument }, start + days * dayMs);
  const jarred = (book: ShedBook, lot: string, over: object = {}): number => book.write('jarred', { lot, at: toRfc3339(start + 40 * dayMs), jars: 30, jarMl: 500, brine: 'b', ingredients: [], ...over }, start + 40 * dayMs);
  it('opens one for packed jars that read above their limit (CXS 66-1981: 4.3), whatever they were read with, and joins further ones', () => {
    const { book, lot } = opened();
    jarred(book, lot);
    jar(book, lot, 42, 4.3);
    expect(numbers(book)).toEqual([]);
    jar(book, lot, 43, 4.35, 'strip');
    jar(book, lot, 44, 4.5);
    expect(book.shed.deviations).toMatchObject([{ number: 'D-1', alert: null, quantity: 'jar-ph', worst: 4.5, bound: { value: 4.3, source: 'CXS 66-1981' }, from: start + 43 * dayMs, to: start + 44 * dayMs }]);
  });
  it('judges jars that are kept cold by 4.6 (21 CFR 114.3)', () => {
    const { book, lot } = opened();
    jarred(book, lot, { coldC: 4 });
    jar(book, lot, 42, 4.5);
    expect(numbers(book)).toEqual([]);
    jar(book, lot, 43, 4.7);
    expect(numbers(book)).toEqual(['D-1']);
  });
  it('also takes the reading that was put in place of a mistaken one', () => {
    const { book, lot } = opened();
    jarred(book, lot);
    const entry = jar(book, lot, 42, 4.1);
    book.write('corrected', { entry, reason: 'slip', replacement: { kind: 'jar-ph', at: toRfc3339(start + 42 * dayMs), value: 5.1, instrument: 'meter-1' } }, start + 43 * dayMs);
    expect(book.shed.deviations).toMatchObject([{ number: 'D-1', lot, worst: 5.1 }]);
  });

  const close = (book: ShedBook, deviation: string, disposition: 'destroyed' | 'reworked'): number => book.write('deviation-closed', { deviation, cause: 'sun', action: 'ice', disposition, by: 'Maria' }, start + 6 * hourMs);
  it('closes one with cause, action and disposition; a later closing takes its place and the earlier one stays', () => {
    const { book, lot } = opened();
    raise(book, lot, start + hourMs);
    book.write('deviation-action', { deviation: 'D-1', text: 'ice' }, start + 2 * hourMs);
    close(book, 'D-1', 'destroyed');
    close(book, 'D-1', 'reworked');
    close(book, 'D-7', 'reworked');
    expect(book.shed.deviations).toMatchObject([{ actions: [{ text: 'ice', by: 'user:owner' }], closings: [{ disposition: 'destroyed' }, { disposition: 'reworked' }] }]);
    expect(closingOf(book.shed.deviations[0]!)?.disposition).toBe('reworked');
  });
  it('is shared by a part for the time before its split, and not after', () => {
    const { book, lot } = opened();
    raise(book, lot, start + hourMs);
    back(book, start + 2 * hourMs, 32);
    book.write('split', { lot, at: toRfc3339(start + 3 * hourMs), into: 'part', drum: null, fruitKg: 5, brineL: 4 }, start + 3 * hourMs);
    raise(book, lot, start + 4 * hourMs);
    const of = (code: string): string[] => deviationsOfLot(book.shed, book.shed.batches.get(code)!).map(({ number }) => number);
    expect(of(lot)).toEqual(['D-1', 'D-2']);
    expect(of('part')).toEqual(['D-1']);
    close(book, 'D-1', 'reworked');
    expect(openDeviationsOf(book.shed, book.shed.batches.get('part')!)).toEqual([]);
  });
});
