import { describe, expect, it } from 'vitest';
import { sheetOf } from '#domain/record/lot-sheet.ts';
import { makeRecord, type RecordInput } from '#domain/record/make-record.ts';
import { limitStretches } from '#domain/record/stretches.ts';
import type { WatchedInput } from '#domain/record/watched.ts';
import { isKindOf } from '../../helpers/entries.ts';
import { dayMs, hourMs, toRfc3339 } from '#domain/units/time.ts';
import { createShedBook, openDrum, type ShedBook } from '../../helpers/shed-book.ts';

const start = Date.UTC(2026, 9, 1, 6);
const now = start + 40 * dayMs;

const recordOf = (book: ShedBook, lot: string, watched: (stretches: number) => readonly WatchedInput[] = () => []): ReturnType<typeof makeRecord> => {
  const { shed } = book;
  const batch = shed.batches.get(lot);
  if (batch === undefined) throw new Error('no such lot');
  const stretches = limitStretches(batch, book.entries.filter(isKindOf('limit-set')), now);
  const alerts = [...shed.openAlerts.values()];
  const input: RecordInput = { shed, batch, site: { id: 'home', name: 'Home', zone: 'Europe/Athens' }, now, alerts, entries: book.entries, stretches, watched: watched(stretches.length), series: ['probe-1/temperature'] };
  return makeRecord(input);
};

const warm = (book: ShedBook, lot: string, at: number): void => {
  book.write('alert-raised', {
    id: `warm-${at}`, rule: 'ferment-temperature-danger', drum: 'barrel-1', lot, quantity: 'temperature', priority: 'high', since: toRfc3339(at), at: toRfc3339(at), value: 30.6,
    limit: { value: 30, unit: 'Cel', source: 'a source', side: 'high' }, text: 'warm', advice: 'cool it',
  }, at);
};

describe('the record of a lot', () => {
  it('numbers a departure, tells what was done, and how it ended', () => {
    const book = createShedBook();
    const lot = openDrum(book, start);
    warm(book, lot, start + 3 * dayMs);
    expect(sheetText(recordOf(book, lot))).toContain('D-1 drum temperature 30.6 °C against 30.0 °C');
    expect(sheetText(recordOf(book, lot))).toContain('OPEN, disposition not recorded');
    book.write('deviation-action', { deviation: 'D-1', text: 'ice put in' }, start + 3 * dayMs + hourMs);
    book.write('deviation-closed', { deviation: 'D-1', cause: 'a hot day', action: 'shade', disposition: 'no-product-affected', by: 'Maria' }, start + 5 * dayMs);
    const [departure] = recordOf(book, lot).departures;
    expect(departure).toMatchObject({ number: 'D-1', cause: 'a hot day', disposition: 'no-product-affected', closed: { by: 'Maria' }, actions: [{ text: 'ice put in', by: 'owner' }, { text: 'shade', by: 'Maria' }] });
    expect(sheetText(recordOf(book, lot))).toContain('closed by Maria: no-product-affected');
  });

  it('judges nothing by a limit that was set afterwards, and tells who set it', () => {
    const book = createShedBook();
    const lot = openDrum(book, start);
    const entry = book.write('limit-set', { limit: 'ferment-temperature-high', drum: null, change: { high: 22, source: 'our process paper' } }, start + 10 * dayMs);
    const rows = recordOf(book, lot, (count) => [{ channel: 'temperature', probes: ['probe-1'], days: [], stretches: Array.from({ length: count }, (_, index) => ({ n: 10, min: 18, max: index === 0 ? 23 : 19, mean: 18.5 })) }]).limits.filter(({ id }) => id === 'ferment-temperature-high');
    expect(rows.map(({ value, worst, setBy, source, to, outcome }) => ({ value, worst, setBy, source: source.slice(0, 15), to, outcome }))).toEqual([
      { value: 25, worst: 23, setBy: null, source: 'practice advice', to: toRfc3339(start + 10 * dayMs), outcome: 'unknown' },
      { value: 22, worst: 19, setBy: { who: 'owner', entry }, source: 'our process pap', to: toRfc3339(now), outcome: 'unknown' },
    ]);
    // Its probe was never checked: a value inside is no evidence.
    expect(rows[0]?.why).toBe('probe-1: ice point not checked');
  });

  it('says that a lot is recalled before anything else, and lists where its jars went', () => {
    const book = createShedBook();
    const lot = openDrum(book, start, { style: 'changed-brine' });
    book.write('jarred', { lot, at: toRfc3339(start + 20 * dayMs), jars: 48, jarMl: 680, brine: '8 % salt', ingredients: [] }, start + 20 * dayMs);
    book.write('distributed', { lot, at: toRfc3339(start + 25 * dayMs), to: 'Shop A', jars: 31 }, start + 25 * dayMs);
    for (const [what, jars] of [['tested', 2], ['broken', 1], ['counted', 14]] as const) book.write('jars-noted', { lot, at: toRfc3339(start + 26 * dayMs), what, jars }, start + 26 * dayMs);
    book.write('recalled', { lot, at: toRfc3339(start + 27 * dayMs), reason: 'pH in doubt' }, start + 27 * dayMs);
    const record = recordOf(book, lot);
    expect(record.state).toMatchObject({ word: 'recalled', reason: 'pH in doubt' });
    // 48 = 31 sold + 2 tested + 1 broken + 14 in store: unaccounted 0 (the worked balance of a paper).
    expect(record.jars).toMatchObject({ filled: 48, left: 14, counted: { jars: 14, unaccounted: 0 } });
    expect(sheetText(record)).toContain('48 filled = 31 gone out + 2 tested + 1 broken + 14 in store. Counted 14 on 2026-10-27: unaccounted 0.');
    expect(sheetText(record)).toContain('Only a competent person or authority may clear held product.');
    expect(sheetText(record)).toContain('Toxin gives no reliable smell or taste. Do not taste to check.');
  });

  it('is plain JSON: what is written and read again is the same', () => {
    const book = createShedBook();
    const record = recordOf(book, openDrum(book, start));
    expect(JSON.parse(JSON.stringify(record))).toEqual(record);
    expect(record.missing.map(({ what }) => what)).toEqual(expect.arrayContaining(['brine temperature not measured', 'pH not measured', 'salt in brine not measured']));
  });
});

const sheetText = (record: ReturnType<typeof makeRecord>): string => JSON.stringify(sheetOf(record));
