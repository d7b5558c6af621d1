import { describe, expect, it } from 'vitest';
import { expectedSaltGPerL } from '#domain/cure/salt-now.ts';
import { dayMs, toRfc3339 } from '#domain/units/time.ts';
import { createShedBook, openDrum } from '../../helpers/shed-book.ts';

const start = Date.UTC(2026, 8, 7, 6);
const fleshL = 30 * 0.83 * 0.65;
const settled = (parts: readonly (readonly [number, number])[]): number => parts.reduce((sum, [litres, gPerL]) => sum + litres * gPerL, 0) / parts.reduce((sum, [litres]) => sum + litres, 0);

const opened = () => {
  const book = createShedBook();
  const lot = openDrum(book, start, { style: 'kept-brine', cut: 'cracked' });
  const expected = (days: number): number => {
    const batch = book.shed.batches.get(lot);
    if (batch === undefined) throw new Error('no batch');
    return expectedSaltGPerL(batch, start + days * dayMs);
  };
  const at = (days: number): { at: string; lot: string } => ({ lot, at: toRfc3339(start + days * dayMs) });
  return { book, expected, at };
};

// Mass balance: salt is in all the water there is (21 CFR and Codex limits hold after osmotic balance).
describe('the salt to expect', () => {
  it('is what was poured at first, and in the end what brine and flesh water share', () => {
    const { expected } = opened();
    expect(expected(0)).toBe(100);
    expect(expected(60)).toBeCloseTo(settled([[27, 100], [fleshL, 0]]), 3);
    expect(expected(60)).toBeCloseTo(62.5, 1);
  });

  it('falls steadily in between', () => {
    const { expected } = opened();
    const course = [0, 1, 2, 4, 8].map(expected);
    expect(course).toEqual(course.toSorted((one, other) => other - one));
  });

  it('rises with a whole change by what the fruit holds already, with a half one by less', () => {
    const changed = (fraction: number): number => {
      const { book, expected, at } = opened();
      book.write('brine-changed', { ...at(60), brineL: 27, saltGPerL: 100, fraction }, start + 60 * dayMs);
      return expected(120);
    };
    expect(changed(1)).toBeCloseTo(settled([[27, 100], [fleshL, 62.5]]), 1);
    expect(changed(0.5)).toBeCloseTo(settled([[27, (100 + 62.5) / 2], [fleshL, 62.5]]), 1);
  });

  it('mixes in a top-up, dissolves strewn salt, and leaves out what was taken back', () => {
    const { book, expected, at } = opened();
    book.write('brine-topped-up', { ...at(60), brineL: 3, saltGPerL: 0 }, start + 60 * dayMs);
    expect(expected(60)).toBeCloseTo(settled([[27, 62.5], [3, 0]]), 1);
    const strewn = book.write('salt-added', { ...at(60), saltG: 540 }, start + 60 * dayMs);
    expect(expected(60)).toBeCloseTo(settled([[27, 62.5], [3, 0]]) + 20, 1);
    book.write('corrected', { entry: strewn, reason: 'another drum', replacement: null }, start + 61 * dayMs);
    expect(expected(60)).toBeCloseTo(settled([[27, 62.5], [3, 0]]), 1);
  });
});
