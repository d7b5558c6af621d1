import { describe, expect, it } from 'vitest';
import type { Ingredient, Instrument } from '#contract';
import { bottleTold, bottleWords, foundTold, lastBottles, lotsOfBottles, noBottle, withLastBottle } from '../../dashboard/state/probes/bottles.ts';

/** What a calibration asks of the bottles; that it may all stay empty is a rule of the forms. */
const buffer = (ph: number, lot: string | null, openedOn: string | null = null) => ({ ph, lot, expiresOn: lot === null ? null : '2027-01-01', openedOn });
const instrument = (id: string, ...checks: readonly (readonly ReturnType<typeof buffer>[])[]) => ({ id, checks: checks.map((buffers) => ({ buffers })) }) as unknown as Instrument;
const stored = (id: string, theirLot: string | null, item = 'buffer') => ({ id, item, theirLot }) as unknown as Ingredient;

describe('the bottles of a calibration', () => {
  it('come from the newest check of the same instrument that named any', () => {
    const all = [instrument('other', [buffer(7, 'X')]), instrument('meter', [buffer(7, null)], [buffer(7, 'B7', '2026-09-01'), buffer(4, null)], [buffer(7, 'OLD')])];
    expect(lastBottles(all, 'meter')).toEqual([buffer(7, 'B7', '2026-09-01')]);
    expect(lastBottles(all, 'never-checked')).toEqual([]);
  });
  it('stand in the form of the buffer they are, at another temperature too, and over nothing that was typed', () => {
    const last = [buffer(7.02, 'B7'), buffer(4, 'B4')];
    expect(withLastBottle(noBottle, 7, last)).toMatchObject({ lot: 'B7', expiresOn: '2027-01-01', openedOn: '' });
    // The other family's "7" is 6.86 at 25 °C: another bottle.
    expect(withLastBottle(noBottle, 6.86, last)).toEqual(noBottle);
    expect(withLastBottle({ ...noBottle, lot: 'NEW' }, 7, last).lot).toBe('NEW');
    expect([withLastBottle(noBottle, 4.01, last).lot, withLastBottle(noBottle, 4.01, last, 0.001).lot]).toEqual(['B4', '']);
    expect(withLastBottle(noBottle, 4.01, [buffer(4.1, 'FAR'), buffer(4, 'NEAR')]).lot).toBe('NEAR');
  });
  it('are told where something is written, and not otherwise', () => {
    expect([bottleWords(noBottle), bottleWords({ ...noBottle, lot: 'B7', expiresOn: '2027-01-01' })]).toEqual(['The bottle, and as found', 'Bottle: lot B7, good until 2027-01-01']);
    expect(bottleTold(noBottle)).toEqual({});
    expect(bottleTold({ ...noBottle, lot: ' B7 ', openedOn: '2026-09-01' })).toEqual({ bottle: { lot: 'B7', openedOn: '2026-09-01' } });
    expect(foundTold([{ ph: 7, found: '' }, { ph: null, found: '7,0' }])).toEqual({});
    expect(foundTold([{ ph: 7, found: '7,05' }, { ph: 4.01, found: '-' }])).toEqual({ asFound: [{ ph: 7, reads: 7.05 }] });
  });
  it('are looked for in the stores by the lot of the supplier, or the code of the house', () => {
    const stores = [stored('buf-7', 'B7'), stored('buf-4', null), stored('salt-1', 'B7', 'salt')];
    expect(lotsOfBottles([{ ...noBottle, lot: 'B7 ' }, { ...noBottle, lot: 'buf-4' }], stores)).toEqual({ lots: ['buf-7', 'buf-4'] });
    expect(lotsOfBottles([{ ...noBottle, lot: 'buf-7' }], stores)).toEqual({});
  });
});
