import { describe, expect, it } from 'vitest';
import { fruitBalance, type FruitFlow } from '#domain/trace/fruit-balance.ts';
import { ingredientBalance } from '#domain/trace/ingredient-balance.ts';
import { jarBalance } from '#domain/trace/jar-balance.ts';

/**
 * A lot worked out by hand, with its uncertainty by the root of summed squares (JCGM 100:2008, 5.1.2): the figures are assumptions, the
 * arithmetic is not. The limits of 5 % and 2 % are assumptions.
 */
const flow: FruitFlow = {
  pickedKg: 24, culledKg: 1.2, cut: 'pitted', stone: { value: 0.17, plusMinus: 0.02 }, weightChange: { value: 0.03, plusMinus: 0.02 },
  jars: 48, drainedKgPerJar: { value: 0.396, plusMinus: 0.005 }, tastedKg: 0.2, spoiledKg: 0, onHandKg: 0, scaleKg: 0.1,
};

describe('fruit', () => {
  it('24.0 kg picked: 0.28 ± 0.66 kg unaccounted, 1.5 %, balances', () => {
    const balance = fruitBalance(flow);
    expect(balance.expectedKg).toBeCloseTo(19.49, 2);
    expect(balance.unaccountedKg).toBeCloseTo(0.28, 2);
    expect(balance.uncertaintyKg).toBeCloseTo(0.66, 2);
    expect(balance.percent).toBeCloseTo(1.5, 1);
    expect(balance.percentUncertainty).toBeCloseTo(3.4, 1);
    expect(balance.verdict).toBe('balances');
  });

  it('with 44 jars written down 1.87 kg, 9.6 %, does not', () => {
    const balance = fruitBalance({ ...flow, jars: 44 });
    expect(balance.unaccountedKg).toBeCloseTo(1.87, 2);
    expect(balance.percent).toBeCloseTo(9.6, 1);
    expect(balance.verdict).toBe('does-not-balance');
  });

  it('asks for both: above 5 %, and above what it may be off by; more than was picked is as wrong as less', () => {
    const loose = { ...flow, jars: 44, drainedKgPerJar: { value: 0.396, plusMinus: 0.05 } };
    expect(fruitBalance(loose)).toMatchObject({ verdict: 'balances' });
    expect(fruitBalance({ ...flow, jars: 52 }).verdict).toBe('does-not-balance');
    // 46 jars: 1.08 kg over 0.66 and 5.5 %; 47: 0.68 kg, 3.5 %.
    expect([46, 47].map((jars) => fruitBalance({ ...flow, jars }).verdict)).toEqual(['does-not-balance', 'balances']);
  });

  it('keeps the stones in what was not pitted', () => {
    expect(fruitBalance({ ...flow, cut: 'slit' }).expectedKg).toBeCloseTo(22.8 * 1.03, 9);
  });
});

describe('jars', () => {
  const counts = { filled: 48, sold: 31, tested: 2, broken: 1, otherwise: 0, returned: 0, onHand: 14 };
  it('48 = 31 + 2 + 1 + 14: none unaccounted, all located', () => {
    expect(jarBalance(counts)).toMatchObject({ unaccounted: 0, percentLocated: 100, verdict: 'balances' });
  });

  it('one missing does not balance, and one too many neither', () => {
    expect(jarBalance({ ...counts, onHand: 13 })).toMatchObject({ unaccounted: 1, percentLocated: (47 / 48) * 100, verdict: 'does-not-balance' });
    expect(jarBalance({ ...counts, onHand: 15 })).toMatchObject({ unaccounted: -1, percentLocated: 100, verdict: 'does-not-balance' });
  });
});

describe('a salt lot', () => {
  const use = (quantity: number | null, at: number) => ({ at, quantity });
  const uses = [use(4, 1), use(3.6, 2), use(2.4, 3), use(3.2, 4), use(0.48, 5)];
  const counted = (left: number, at: number, spilled = 0) => ({ sequence: at, at, by: 'user:owner', left, spilled });

  it('25.00 kg: 13.68 used, 11.10 in the bag, 0.22 kg (0.9 %) unaccounted, balances', () => {
    const balance = ingredientBalance({ quantity: 25, counts: [counted(11.1, 6)] }, uses, 10);
    expect(balance.used).toBeCloseTo(13.68, 9);
    expect(balance.unaccounted).toBeCloseTo(0.22, 9);
    expect(balance.percent).toBeCloseTo(0.9, 1);
    expect(balance.verdict).toBe('balances');
  });

  it('above 2 % does not, unless it was spilled and written', () => {
    expect(ingredientBalance({ quantity: 25, counts: [counted(10.8, 6)] }, uses, 10).verdict).toBe('does-not-balance');
    expect(ingredientBalance({ quantity: 25, counts: [counted(10.8, 6, 0.3)] }, uses, 10).verdict).toBe('balances');
  });

  it('takes what was used after a count off what was counted', () => {
    // Counted between the second and the third brine.
    const balance = ingredientBalance({ quantity: 25, counts: [counted(17.2, 2.5)] }, uses, 10);
    expect([balance.onHand, balance.unaccounted, balance.verdict]).toEqual([expect.closeTo(11.12, 9), expect.closeTo(0.2, 9), 'balances']);
  });

  it('is unknown while nobody counted, or an amount was not written', () => {
    expect(ingredientBalance({ quantity: 25, counts: [] }, uses, 10)).toMatchObject({ onHand: null, verdict: 'unknown' });
    expect(ingredientBalance({ quantity: 25, counts: [counted(11.1, 6)] }, [...uses, use(null, 5)], 10)).toMatchObject({ usesUnknown: 1, verdict: 'unknown' });
  });
});
