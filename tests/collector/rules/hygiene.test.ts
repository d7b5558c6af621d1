import { describe, expect, it } from 'vitest';
import { hygieneOf, type Hygiene } from '#domain/rules/hygiene.ts';
import { hourMs, toRfc3339 } from '#domain/units/time.ts';
import { createShedBook, openDrum } from '../../helpers/shed-book.ts';

const start = Date.UTC(2026, 8, 7, 6);
const of = (saltGPerL: number, change?: (book: ReturnType<typeof createShedBook>, lot: string) => void): Hygiene | null => {
  const book = createShedBook();
  const lot = openDrum(book, start, { style: 'water-then-brine', saltGPerL });
  change?.(book, lot);
  const batch = book.shed.batches.get(lot);
  if (batch === undefined) throw new Error('no batch');
  return hygieneOf(book.shed.limitChanges, batch, start + 30 * hourMs);
};

// Home curing guidance: water on cracked or slit olives is changed at least once a day.
describe('how long water may stand', () => {
  it('is a day in plain water from its last change, however late it is now, and the stricter of two limits', () => {
    expect(of(0)).toMatchObject({ limitAt: start + 24 * hourMs, limitHours: 24, text: 'Plain water holds nothing back: at most 24 h between changes. This is hygiene, whatever the date.' });
  });
  it('counts from a change of at least half of it', () => {
    const changed = (fraction: number) => of(0, (book, lot) => book.write('brine-changed', { lot, at: toRfc3339(start + 20 * hourMs), brineL: 27, saltGPerL: 0, fraction }, start + 20 * hourMs));
    expect(changed(0.5)?.limitAt).toBe(start + 44 * hourMs);
    expect(changed(0.4)?.limitAt).toBe(start + 24 * hourMs);
  });
  it('stands for weak brine too, below 60 g/L, and not above', () => {
    expect(of(59)?.text).toMatch(/^Weak brine/);
    expect(of(60)).toBeNull();
  });
  it('follows the limit of the site', () => {
    expect(of(0, (book) => book.write('limit-set', { limit: 'soak-change-late', drum: null, change: { high: 12, source: 'mine' } }, start))).toMatchObject({ limitAt: start + 12 * hourMs, limitHours: 12, source: 'mine' });
  });
});
