import { expect, test } from 'vitest';
import { draws, mix } from '../../../collector/demo/physics/random.ts';

// MurmurHash3_x86_32 of no bytes is its finaliser alone. Vectors: answer 31929528 on Stack Overflow, made with Appleby's SMHasher.
test.each([
  [0, 0],
  [1, 0x514e28b7],
  [0xffffffff, 0x81f16f39],
])('the mixing step is the finaliser of MurmurHash3: %i', (value, expected) => {
  expect(mix(value)).toBe(expected);
});

const count = 20_000;
const all = (draw: (index: number) => number, from = 0): number[] => Array.from({ length: count }, (_, index) => draw(from + index));
const mean = (values: readonly number[]): number => values.reduce((sum, value) => sum + value, 0) / values.length;

test('uniform draws fill twenty bins evenly', () => {
  const bins = Array.from({ length: 20 }, () => 0);
  for (const value of all(draws(1, 'a').uniform)) bins[Math.floor(value * 20)] = (bins[Math.floor(value * 20)] ?? 0) + 1;
  const chiSquared = bins.reduce((sum, bin) => sum + (bin - count / 20) ** 2 / (count / 20), 0);
  // Chi-squared table, 19 degrees of freedom: 99.9 % point 43.82.
  expect(chiSquared).toBeLessThan(43.82);
});

test('gaussian draws have mean 0, standard deviation 1 and 5 % beyond 1.96, also at indices that are epoch milliseconds', () => {
  for (const from of [0, 1_790_000_000_000]) {
    const values = all(draws(2, 'b').gaussian, from);
    // Four standard errors of 20,000 draws; the 5 % is from the table of the normal distribution.
    expect(Math.abs(mean(values))).toBeLessThan(4 / Math.sqrt(count));
    expect(Math.abs(Math.sqrt(mean(values.map((value) => value ** 2))) - 1)).toBeLessThan(4 / Math.sqrt(2 * count));
    expect(Math.abs(mean(values.map((value) => (Math.abs(value) > 1.96 ? 1 : 0))) - 0.05)).toBeLessThan(4 * Math.sqrt((0.05 * 0.95) / count));
  }
});

test('neighbours, names and seeds do not resemble each other', () => {
  const correlation = (one: readonly number[], other: readonly number[]): number => mean(one.map((value, index) => value * (other[index] as number)));
  const values = all(draws(3, 'c').gaussian);
  for (const other of [all(draws(3, 'c').gaussian, 1), all(draws(3, 'd').gaussian), all(draws(4, 'c').gaussian)]) expect(Math.abs(correlation(values, other))).toBeLessThan(4 / Math.sqrt(count));
});

test('a draw depends on seed, name and index alone, not on what was drawn before', () => {
  const forward = all(draws(5, 'e').gaussian);
  const backward = Array.from({ length: count }, (_, index) => draws(5, 'e').gaussian(count - 1 - index)).toReversed();
  expect(backward).toEqual(forward);
});
