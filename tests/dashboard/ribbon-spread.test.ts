import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { spread, spreadSome } from '../../dashboard/parts/ribbon/spread.ts';

const wishes = fc.array(fc.double({ min: -50, max: 650, noNaN: true }), { maxLength: 14 }).map((xs) => xs.toSorted((a, b) => a - b));
const cost = (wanted: readonly number[], at: readonly number[]): number => wanted.reduce((sum, x, index) => sum + (x - (at[index] ?? 0)) ** 2, 0);

describe('placing marks without overlap', () => {
  it('leaves marks alone that do not touch', () => {
    expect(spread([10, 50, 90], 20, 0, 100)).toEqual([10, 50, 90]);
  });

  it('parts two that touch by the same amount each', () => {
    expect(spread([50, 50], 20, 0, 100)).toEqual([40, 60]);
  });

  it('stays in order, apart and inside, whatever is wished', () => {
    fc.assert(
      fc.property(wishes, (wanted) => {
        const at = spread(wanted, 24, 0, 600);
        expect(at).not.toBeNull();
        for (const [index, x] of (at ?? []).entries()) {
          expect(x).toBeGreaterThanOrEqual(-1e-6);
          expect(x).toBeLessThanOrEqual(600 + 1e-6);
          const next = at?.[index + 1];
          if (next !== undefined) expect(next - x).toBeGreaterThanOrEqual(24 - 1e-6);
        }
      }),
    );
  });

  it('is no worse than pushing each mark right of the one before', () => {
    fc.assert(
      fc.property(fc.array(fc.double({ min: 100, max: 300, noNaN: true }), { minLength: 2, maxLength: 6 }).map((xs) => xs.toSorted((a, b) => a - b)), (wanted) => {
        const pushed: number[] = [];
        for (const x of wanted) pushed.push(Math.max(x, (pushed.at(-1) ?? -Infinity) + 24));
        expect(cost(wanted, spread(wanted, 24, 0, 600) ?? [])).toBeLessThanOrEqual(cost(wanted, pushed) + 1e-6);
      }),
    );
  });

  it('says when there is no room, and then keeps the newest', () => {
    const crowd = Array.from({ length: 12 }, (_, index) => index * 3);
    expect(spread(crowd, 20, 0, 100)).toBeNull();
    const { kept, at } = spreadSome(crowd, 20, 0, 100);
    expect(at).toHaveLength(kept.length);
    expect(kept.length).toBeGreaterThan(1);
    expect(kept.at(-1)).toBe(11);
  });
});
