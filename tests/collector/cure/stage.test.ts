import { describe, expect, it } from 'vitest';
import { restDays } from '#domain/cure/batch.ts';
import { brineAt, isPlainWater } from '#domain/cure/brine.ts';
import { dayOf, restOver, stageAt } from '#domain/cure/stage.ts';
import type { Batch } from '#domain/journal/shed.ts';
import { dayMs, hourMs, toRfc3339 } from '#domain/units/time.ts';
import { createShedBook, openDrum, type ShedBook } from '../../helpers/shed-book.ts';

const start = Date.parse('2026-10-05T20:30:00Z');
const on = (day: number): string => toRfc3339(start + day * dayMs);
const batchOf = (book: ShedBook, lot: string): Batch => {
  const batch = book.shed.batches.get(lot);
  if (batch === undefined) throw new Error('no batch');
  return batch;
};
const opened = (batch: Parameters<typeof openDrum>[2]) => {
  const book = createShedBook();
  const lot = openDrum(book, start, batch);
  return { book, lot, stage: (day: number) => stageAt(batchOf(book, lot), start + day * dayMs) };
};

describe('stage', () => {
  it('begins by style', () => {
    expect(opened({ style: 'changed-brine' }).stage(0)).toBe('leach');
    expect(opened({ style: 'kept-brine' }).stage(0)).toBe('ferment');
    expect(opened({ style: 'water-then-brine', saltGPerL: 0 }).stage(0)).toBe('soak');
  });

  it('soaks while the drum holds plain water, and leaches once it is salted: by a change or by strewn salt', () => {
    const poured = opened({ style: 'water-then-brine', saltGPerL: 0 });
    poured.book.write('brine-changed', { lot: poured.lot, at: on(1), brineL: 27, saltGPerL: 0 }, start);
    poured.book.write('brine-changed', { lot: poured.lot, at: on(8), brineL: 27, saltGPerL: 80 }, start);
    expect([poured.stage(7), poured.stage(8)]).toEqual(['soak', 'leach']);
    const strewn = opened({ style: 'water-then-brine', saltGPerL: 0 });
    strewn.book.write('salt-added', { lot: strewn.lot, at: on(3), saltG: 2_000 }, start);
    expect([strewn.stage(2), strewn.stage(3)]).toEqual(['soak', 'leach']);
  });

  it('holds once tasted sweet, and goes back to work when a later tasting is bitter', () => {
    const { book, lot, stage } = opened({ style: 'changed-brine' });
    book.write('tasted', { lot, at: on(10), bitterness: 1.5 }, start);
    expect(stage(11)).toBe('leach');
    book.write('tasted', { lot, at: on(20), bitterness: 1 }, start);
    expect([stage(19), stage(20)]).toEqual(['leach', 'hold']);
    book.write('tasted', { lot, at: on(25), bitterness: 3 }, start);
    expect(stage(25)).toBe('leach');
  });

  it('does not count a tasting that was taken back', () => {
    const { book, lot, stage } = opened({ style: 'kept-brine' });
    const entry = book.write('tasted', { lot, at: on(10), bitterness: 0 }, start);
    expect(stage(11)).toBe('hold');
    book.write('corrected', { entry, reason: 'other drum', replacement: null }, start + 11 * dayMs);
    expect(stage(11)).toBe('ferment');
  });

  it('rests from jarring, and is ready when the rest is over', () => {
    const { book, lot, stage } = opened({ style: 'changed-brine' });
    book.write('jarred', { lot, at: on(30), jars: 40, jarMl: 720, brine: 'fresh', ingredients: [] }, start);
    expect([stage(29), stage(30), stage(30 + restDays - 0.01), stage(30 + restDays)]).toEqual(['leach', 'rest', 'rest', 'ready']);
    expect(restOver(start)).toBe(start + 14 * dayMs); // two weeks: common practice, no source
  });
});

describe('brine as poured', () => {
  it('mixes part changes and top-ups by volume, and spreads strewn salt over the litres', () => {
    const { book, lot } = opened({ style: 'changed-brine', brineL: 30, saltGPerL: 100 });
    const salt = () => brineAt(batchOf(book, lot), start + dayMs).saltGPerL;
    book.write('brine-changed', { lot, at: on(0.1), brineL: 10, saltGPerL: 40, fraction: 0.25 }, start);
    expect(salt()).toBeCloseTo(85, 10); // 0.75 × 100 + 0.25 × 40
    book.write('brine-topped-up', { lot, at: on(0.2), brineL: 4, saltGPerL: 0 }, start);
    expect(salt()).toBeCloseTo(75, 10); // 85 × 30 / 34
    book.write('salt-added', { lot, at: on(0.3), saltG: 300 }, start);
    expect(salt()).toBeCloseTo(85, 10); // + 300 g / 30 L
  });

  it('is renewed by a change of half or more, not by less', () => {
    const { book, lot } = opened({ style: 'changed-brine' });
    const renewed = () => brineAt(batchOf(book, lot), start + 9 * dayMs).renewedAt;
    book.write('brine-changed', { lot, at: on(1), brineL: 10, saltGPerL: 100, fraction: 0.4 }, start);
    expect(renewed()).toBe(start);
    book.write('brine-changed', { lot, at: on(2), brineL: 14, saltGPerL: 100, fraction: 0.5 }, start);
    expect(renewed()).toBe(start + 2 * dayMs);
    book.write('brine-changed', { lot, at: on(3), brineL: 27, saltGPerL: 100 }, start);
    expect(renewed()).toBe(start + 3 * dayMs);
  });

  it('does not yet know what is written for later', () => {
    const { book, lot } = opened({ style: 'water-then-brine', saltGPerL: 0 });
    book.write('brine-changed', { lot, at: on(2), brineL: 27, saltGPerL: 80 }, start);
    expect([isPlainWater(brineAt(batchOf(book, lot), start + dayMs)), isPlainWater(brineAt(batchOf(book, lot), start + 2 * dayMs))]).toEqual([true, false]);
  });
});

describe('day of the cure', () => {
  const day = (at: string, zone: string): number => {
    const { book, lot } = opened({});
    return dayOf(batchOf(book, lot), Date.parse(at), zone);
  };

  it('is 1 on the local day of the start, and grows at local midnight', () => {
    // 20:30 UTC is 22:30 in Rome: an hour and a half later it is day 2 there, and day 1 still in London.
    expect(day('2026-10-05T21:59:00Z', 'Europe/Rome')).toBe(1);
    expect(day('2026-10-05T22:00:00Z', 'Europe/Rome')).toBe(2);
    expect(day('2026-10-05T22:00:00Z', 'Europe/London')).toBe(1);
  });

  it('counts days, not spans of 24 hours, over the change of clocks (25 October 2026 in Europe)', () => {
    expect(day('2026-10-24T22:30:00Z', 'Europe/Rome')).toBe(21); // 00:30 on the 25th, summer time
    expect(day('2026-10-25T22:30:00Z', 'Europe/Rome')).toBe(21); // 23:30 on the 25th, winter time: a day of 25 hours
    expect(day('2026-10-25T23:00:00Z', 'Europe/Rome')).toBe(22);
    expect(Date.parse('2026-10-25T23:00:00Z') - Date.parse('2026-10-24T22:00:00Z')).toBe(25 * hourMs);
  });
});
