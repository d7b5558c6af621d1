import fc from 'fast-check';
import { expect, test } from 'vitest';
import { attributeDays, cureFactors } from '#domain/cure/attribute-days.ts';
import { cuts, maturities } from '#domain/cure/batch.ts';
import { shapley } from '#domain/stats/shapley.ts';
import { inventCure } from '../helpers/attributed-cures.ts';
import { valueOf } from '../helpers/value-of.ts';

/** The properties by which Shapley (1953) defined his value. */
const between = (min: number, max: number): fc.Arbitrary<number> => fc.double({ min, max, noNaN: true });
const players = 4;
const game = fc.array(between(-100, 100), { minLength: 2 ** players, maxLength: 2 ** players });
const valueIn = (values: readonly number[]) => (set: number): number => values[set] as number;
const seeded = { seed: 20260420, numRuns: 200 };

test('efficiency: the shares add up to what all reach together', () => {
  fc.assert(fc.property(game, (values) => {
    const shares = shapley(players, valueIn(values));
    expect(shares.reduce((a, b) => a + b, 0)).toBeCloseTo((values.at(-1) as number) - (values[0] as number), 8);
  }), seeded);
});

test('null player: one that changes nothing gets nothing', () => {
  fc.assert(fc.property(game, fc.nat(players - 1), (values, player) => {
    expect(shapley(players, (set) => values[set & ~(1 << player)] as number)[player]).toBe(0);
  }), seeded);
});

test('symmetry: two that do the same in every set get the same', () => {
  const swapped = (set: number, a: number, b: number): number => (((set >> a) & 1) === ((set >> b) & 1) ? set : set ^ (1 << a) ^ (1 << b));
  fc.assert(fc.property(game, fc.uniqueArray(fc.nat(players - 1), { minLength: 2, maxLength: 2 }), (values, [a = 0, b = 1]) => {
    const shares = shapley(players, (set) => (values[set] as number) + (values[swapped(set, a, b)] as number));
    expect(shares[a]).toBeCloseTo(shares[b] as number, 8);
  }), seeded);
});

test('additivity: the shares of two games together are the sums of their shares', () => {
  fc.assert(fc.property(game, game, (one, other) => {
    const [first, second] = [shapley(players, valueIn(one)), shapley(players, valueIn(other))];
    shapley(players, (set) => (one[set] as number) + (other[set] as number)).forEach((share, i) => expect(share).toBeCloseTo((first[i] as number) + (second[i] as number), 8));
  }), seeded);
});

test('parts and rest of any two cures add up to the difference observed, to the last bit that matters', () => {
  const cure = fc.record({
    temperatureC: between(6, 28), everyDays: fc.option(fc.integer({ min: 1, max: 21 })), cut: fc.constantFrom(...cuts), maturity: fc.constantFrom(...maturities), brineL: between(15, 50), rate: between(0.6, 1.6),
    startedAt: fc.constant(0),
  });
  fc.assert(fc.property(cure, cure, between(-20, 60), (one, other, late) => {
    const first = inventCure(one);
    const found = valueOf(attributeDays({ ...first, days: first.days + late }, inventCure(other), 1));
    const parts = cureFactors.reduce((sum, factor) => sum + found.parts[factor], 0);
    expect(parts + found.unexplainedDays).toBeCloseTo(found.differenceDays, 7);
    expect(parts).toBeCloseTo(found.modelDays[0] - found.modelDays[1], 7);
  }), { seed: 20260421, numRuns: 40 });
});
