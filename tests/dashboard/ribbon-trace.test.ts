import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { dayMs, hourMs } from '#contract';
import { areaBetween, outsidePlaces, runsOf, smoothLine, stepMs } from '../../dashboard/parts/ribbon/trace.ts';

const point = (t: number, mean = 16) => ({ t, mean, min: mean - 1, max: mean + 1 });
const every6h = (days: number, from = 0) => Array.from({ length: days * 4 + 1 }, (_, index) => point(from + index * 6 * hourMs, 15 + (index % 4)));
const numbers = (path: string): number[] => (path.match(/-?\d+(\.\d+)?/g) ?? []).map(Number);

describe('the temperature on the ribbon', () => {
  it('folds readings into even steps and keeps both ends', () => {
    const points = every6h(10);
    const [run, ...others] = runsOf(points, [], dayMs);
    expect(others).toEqual([]);
    expect(run?.[0]?.t).toBe(points[0]?.t);
    expect(run?.at(-1)?.t).toBe(points.at(-1)?.t);
    expect(run?.length).toBeLessThan(14);
  });

  it('keeps the extremes of each step, which a mean would hide', () => {
    const points = [...every6h(3), point(3 * dayMs + hourMs, 31), point(3 * dayMs + 2 * hourMs, 16)];
    expect(Math.max(...runsOf(points, [], dayMs).flat().map(({ max }) => max))).toBe(32);
  });

  it('breaks at a gap, and not without one', () => {
    const points = [...every6h(4), ...every6h(4, 6 * dayMs)];
    const gap = { from: 4 * dayMs + hourMs, to: 6 * dayMs - hourMs };
    const runs = runsOf(points, [gap], dayMs);
    expect(runs).toHaveLength(2);
    for (const run of runs) for (const step of run) expect(step.t <= gap.from || step.t >= gap.to).toBe(true);
    expect(runsOf(points, [], dayMs)).toHaveLength(1);
  });

  it('takes a day or more for a step, except while the cure is young', () => {
    expect(stepMs(10, 30)).toBe(dayMs);
    expect(stepMs(1, 200)).toBe(7 * dayMs);
    expect(stepMs(40, 2)).toBe(dayMs / 4);
  });

  it('draws no peak that was not measured: each curve stays between its two ends', () => {
    fc.assert(
      fc.property(fc.array(fc.double({ min: 0, max: 100, noNaN: true }), { minLength: 2, maxLength: 20 }), (ys) => {
        const places = ys.map((y, index) => ({ x: index * 10, y }));
        const values = numbers(smoothLine(places));
        for (let index = 1; index < places.length; index += 1) {
          // M x y, then per curve: two control points and an end.
          const [, firstY = 0, , secondY = 0] = values.slice(2 + (index - 1) * 6, 6 + (index - 1) * 6);
          const [low, high] = [Math.min(places[index - 1]?.y ?? 0, places[index]?.y ?? 0), Math.max(places[index - 1]?.y ?? 0, places[index]?.y ?? 0)];
          for (const y of [firstY, secondY]) {
            expect(y).toBeGreaterThanOrEqual(low - 0.06);
            expect(y).toBeLessThanOrEqual(high + 0.06);
          }
        }
      }),
    );
  });

  it('closes the envelope around both lines', () => {
    const path = areaBetween([{ x: 0, y: 1 }, { x: 10, y: 2 }], [{ x: 0, y: 5 }, { x: 10, y: 6 }]);
    expect(path.startsWith('M0.0 1.0')).toBe(true);
    expect(path).toContain('L10.0 6.0');
    expect(path.endsWith('Z')).toBe(true);
  });

  it('shows a stretch outside at the extreme that broke the limit', () => {
    const points = every6h(2);
    expect(outsidePlaces(points, { from: 0, to: 6 * hourMs, side: 'high' }).map(({ value }) => value)).toEqual([16, 17]);
    expect(outsidePlaces(points, { from: 0, to: 6 * hourMs, side: 'low' }).map(({ value }) => value)).toEqual([14, 15]);
  });
});
