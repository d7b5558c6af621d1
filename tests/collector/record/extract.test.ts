import { describe, expect, it } from 'vitest';
import { lotExtract } from '#domain/record/extract.ts';
import { limitsAside } from '#domain/record/limits-aside.ts';
import { recordActs } from '#domain/record/story.ts';
import { dayMs, hourMs, toRfc3339 } from '#domain/units/time.ts';
import { createShedBook, openDrum, type ShedBook } from '../../helpers/shed-book.ts';

const start = Date.UTC(2026, 9, 1, 6);
const batchOf = (book: ShedBook, lot: string) => {
  const batch = book.shed.batches.get(lot);
  if (batch === undefined) throw new Error('no such lot');
  return batch;
};
const extract = (book: ShedBook, lot: string, until: number, names: readonly string[] = []): string[] => {
  const concerns = lotExtract({ batch: batchOf(book, lot), series: ['probe-1/temperature'], instruments: new Set(['meter-1']), names: new Set(names), until });
  return book.entries.filter((entry) => concerns(entry)).map(({ kind, sequence }) => `${sequence} ${kind}`);
};

describe('the entries that concern a lot', () => {
  it('are its own, those of its drum, probes and instruments in its time, and what answers them; not those of the next lot', () => {
    const book = createShedBook();
    const lot = openDrum(book, start, { lot: 'A-1' });
    const measured = book.write('measured', { lot, at: toRfc3339(start + dayMs), quantity: 'ph', value: 48, instrument: 'meter-1' }, start + dayMs);
    const corrected = book.write('corrected', { entry: measured, reason: 'a point was left out', replacement: null }, start + dayMs);
    book.write('drum-added', { id: 'barrel-9', name: 'Nine', volumeL: 60, insulated: false }, start + dayMs);
    book.write('calibrated', { probe: 'other', kind: 'ice-point', readingC: 0, referenceC: 0, at: toRfc3339(start) }, start + dayMs);
    const calibrated = book.write('calibrated', { probe: 'meter-1', kind: 'ice-point', readingC: 0, referenceC: 0, at: toRfc3339(start) }, start + dayMs);
    const jarred = book.write('jarred', { lot, at: toRfc3339(start + 20 * dayMs), jars: 10, jarMl: 680, brine: '8 %', ingredients: [] }, start + 20 * dayMs);
    book.write('batch-opened', { lot: 'A-2', drum: 'barrel-1', pickedAt: toRfc3339(start + 21 * dayMs), startedAt: toRfc3339(start + 21 * dayMs), cut: 'slit', style: 'kept-brine', maturity: 'green', fruitKg: 30, brineL: 27, saltGPerL: 100 }, start + 21 * dayMs);
    book.write('skimmed', { lot: 'A-2', at: toRfc3339(start + 22 * dayMs) }, start + 22 * dayMs);
    book.write('limit-set', { limit: 'ferment-temperature-high', drum: 'barrel-1', change: { high: 22 } }, start + 22 * dayMs);
    const closed = book.write('deviation-action', { deviation: 'D-7', text: 'ice' }, start + 22 * dayMs);
    book.write('deviation-action', { deviation: 'D-8', text: 'ice' }, start + 22 * dayMs);
    expect(extract(book, lot, start + 20 * dayMs, ['D-7'])).toEqual([
      '2 placed', '3 batch-opened', `${measured} measured`, `${corrected} corrected`, `${calibrated} calibrated`, `${jarred} jarred`, `${closed} deviation-action`,
    ]);
  });

  it('hold the story of the lot it was split from up to the split, and each act says under which lot it was written', () => {
    const book = createShedBook();
    const lot = openDrum(book, start, { lot: 'A-1' });
    book.write('skimmed', { lot, at: toRfc3339(start + dayMs) }, start + dayMs);
    book.write('split', { lot, at: toRfc3339(start + 2 * dayMs), into: 'A-2', drum: null, fruitKg: 10, brineL: 9 }, start + 2 * dayMs);
    book.write('rinsed', { lot: 'A-2', at: toRfc3339(start + 3 * dayMs) }, start + 3 * dayMs);
    book.write('skimmed', { lot, at: toRfc3339(start + 4 * dayMs) }, start + 4 * dayMs);
    expect(recordActs(batchOf(book, 'A-2'), new Map()).map(({ kind, lot: of }) => `${of} ${kind}`)).toEqual(['A-1 skimmed', 'A-1 split', 'A-2 rinsed']);
    expect(recordActs(batchOf(book, 'A-1'), new Map()).map(({ kind }) => kind)).toEqual(['skimmed', 'split', 'skimmed']);
  });
});

describe('limits that were set aside', () => {
  it('are told for the time the lot lay in that drum only, until they were put back', () => {
    const book = createShedBook();
    const lot = openDrum(book, start, { lot: 'A-1' });
    const aside = (drum: string, at: number): number => book.write('limit-out-of-service', { drum, limit: 'ferment-temperature-high', reason: 'probe mended' }, at);
    aside('barrel-1', start - 2 * dayMs);
    book.write('limit-in-service', { drum: 'barrel-1', limit: 'ferment-temperature-high' }, start - dayMs);
    aside('barrel-2', start + dayMs);
    aside('barrel-1', start + 2 * dayMs);
    book.write('limit-in-service', { drum: 'barrel-1', limit: 'ferment-temperature-high' }, start + 2 * dayMs + hourMs);
    aside('barrel-1', start + 5 * dayMs);
    expect(limitsAside(book.entries, batchOf(book, lot), start + 10 * dayMs)).toEqual([
      { limit: 'ferment-temperature-high', reason: 'probe mended', by: 'owner', from: start + 2 * dayMs, to: start + 2 * dayMs + hourMs },
      { limit: 'ferment-temperature-high', reason: 'probe mended', by: 'owner', from: start + 5 * dayMs, to: null },
    ]);
  });
});
