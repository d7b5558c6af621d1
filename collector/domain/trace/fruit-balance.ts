import type { Cut } from '../cure/batch.ts';

/** A quantity with the half width of what it may be off by. */
export interface Guess {
  readonly value: number;
  readonly plusMinus: number;
}

export interface FruitFlow {
  readonly pickedKg: number;
  readonly culledKg: number;
  readonly cut: Cut;
  /** Share of the fruit that is stone; counts only where the fruit was pitted. */
  readonly stone: Guess;
  /** Share by which fruit grows heavier in brine. */
  readonly weightChange: Guess;
  readonly jars: number;
  readonly drainedKgPerJar: Guess;
  readonly tastedKg: number;
  readonly spoiledKg: number;
  readonly onHandKg: number;
  readonly scaleKg: number;
}

export interface FruitBalance {
  readonly expectedKg: number;
  readonly foundKg: number;
  readonly unaccountedKg: number;
  readonly uncertaintyKg: number;
  readonly percent: number;
  readonly percentUncertainty: number;
  readonly verdict: 'balances' | 'does-not-balance';
}

/** Assumptions; a grower weighs instead. */
export const fruitGuesses = { stone: { value: 0.17, plusMinus: 0.02 }, weightChange: { value: 0.03, plusMinus: 0.02 }, jarKg: 0.005, scaleKg: 0.1 } as const;

/** Above this share of what was expected a difference is looked at, if it is also more than its own uncertainty (assumption). */
export const fruitFlagShare = 0.05;

/**
 * Whether the fruit of a lot adds up.
 *
 * expected = (picked - culls) × (1 - stone if pitted) × (1 + weight change); unaccounted = expected - jars × drained - tasted - spoiled - on hand.
 * Uncertainty: root of the summed squares of what each guess moves the result by; jars weighed on one scale are off together.
 * Flagged above 5 % and above its own uncertainty; kg.
 *
 * Source: mass balance; the shares and limits are assumptions. Rule of independent parts: JCGM 100:2008, 5.1.2.
 * Example: 24.0 kg picked, 1.2 culls, pitted at 0.17 ± 0.02, +3 ± 2 %: 19.49 expected; 48 jars × 0.396 and 0.20 tasted leave 0.28 ± 0.66 kg:
 * balances. With 44 jars 1.87 kg (9.6 %) are left: does not balance.
 */
export const fruitBalance = (flow: FruitFlow): FruitBalance => {
  const { pickedKg, culledKg, cut, stone, weightChange, jars, drainedKgPerJar, tastedKg, spoiledKg, onHandKg, scaleKg } = flow;
  const sound = pickedKg - culledKg;
  const kept = cut === 'pitted' ? 1 - stone.value : 1;
  const grown = 1 + weightChange.value;
  const expectedKg = sound * kept * grown;
  const foundKg = jars * drainedKgPerJar.value + tastedKg + spoiledKg + onHandKg;
  const unaccountedKg = expectedKg - foundKg;
  const parts = [cut === 'pitted' ? sound * stone.plusMinus * grown : 0, sound * kept * weightChange.plusMinus, jars * drainedKgPerJar.plusMinus, scaleKg];
  const uncertaintyKg = Math.sqrt(parts.reduce((sum, part) => sum + part * part, 0));
  const share = (kg: number): number => (expectedKg === 0 ? 0 : (kg / expectedKg) * 100);
  const off = Math.abs(unaccountedKg);
  return {
    expectedKg,
    foundKg,
    unaccountedKg,
    uncertaintyKg,
    percent: share(unaccountedKg),
    percentUncertainty: share(uncertaintyKg),
    verdict: off > fruitFlagShare * expectedKg && off > uncertaintyKg ? 'does-not-balance' : 'balances',
  };
};
