import { describe, expect, it } from 'vitest';
import type { JarGate } from '#contract';
import { jarPicture } from '../../dashboard/state/jar-picture.ts';
import { jarMarks, marginWords, verdictWords } from '../../dashboard/state/jar-words.ts';

const at = '2026-10-03T12:00:00.000Z';
const uncertainty = { buffer: 0.01, slope: 0.01, temperature: 0.01, jars: 0.01, salt: 0.1, expanded: 0.13, ofOneJar: 0.125 };
const gate = (over: Partial<JarGate> = {}): JarGate => ({
  verdict: 'inside', text: '', margin: 0.05, decidedBy: 'mean', limit: { id: 'codex-natural-olives', ph: 4.3, rule: 'natural olives in brine: pH at most 4.3', source: 'CXS 66-1981' }, mean: 4.12, uncertainty,
  jars: [{ jar: '1', ph: 4.1, at, course: 'steady', repeatFrom: null }, { jar: '2', ph: 4.14, at, course: 'once', repeatFrom: at }],
  discounted: [], next: null, ...over,
});
const widths = [250, 330, 480, 1_100];

describe('the picture of the jars', () => {
  it.each(widths)('keeps marks, mean and limit in their order on the axis, %d px wide', (width) => {
    const { jars, mean, limitX, ticks } = jarPicture(gate(), width);
    const [one, two] = jars;
    expect([one?.x, two?.x, limitX].every((x) => x !== undefined && x >= 0 && x <= width)).toBe(true);
    expect(one?.x).toBeLessThan(two?.x ?? 0);
    expect(two?.x).toBeLessThan(limitX);
    // 4.12 lies midway between 4.10 and 4.14, and 0.13 to each side of it, on a straight axis.
    expect(mean?.x).toBeCloseTo(((one?.x ?? 0) + (two?.x ?? 0)) / 2, 6);
    const perPh = ((two?.x ?? 0) - (one?.x ?? 0)) / 0.04;
    expect((mean?.to ?? 0) - (mean?.x ?? 0)).toBeCloseTo(0.13 * perPh, 6);
    expect((mean?.x ?? 0) - (mean?.from ?? 0)).toBeCloseTo(0.13 * perPh, 6);
    // 4.12 + 0.13 is inside 4.30: the bar ends before the line. A mean drawn with its bar on the other side of it would not.
    expect(mean?.to).toBeLessThan(limitX);
    expect(ticks.every(({ x }, index) => index === 0 || x - (ticks[index - 1]?.x ?? 0) >= 40)).toBe(true);
  });

  it('shows a mark above the limit beyond it, and a reading that does not count by its own shape', () => {
    const { jars, limitX, mean, key } = jarPicture(gate({ verdict: 'outside', jars: [{ jar: '1', ph: 4.55, at, course: 'moving', repeatFrom: at }], mean: 4.55, discounted: [{ jar: '2', ph: 3.6, at, why: 'strip' }] }), 600);
    expect(jars.map(({ shape }) => shape)).toEqual(['moving', 'not-counted']);
    expect(jars[0]?.x).toBeGreaterThan(limitX);
    expect(mean?.x).toBe(jars[0]?.x);
    expect(key.map(({ words }) => words)).toEqual(['still moving', 'does not count']);
  });

  it('is drawn with nothing measured: the limit alone', () => {
    const { jars, mean, limitX, height } = jarPicture(gate({ verdict: 'unknown', jars: [], mean: null, uncertainty: null, margin: null }), 400);
    expect([jars, mean]).toEqual([[], null]);
    expect(limitX).toBeGreaterThan(0);
    expect(height).toBeGreaterThan(60);
  });
});

describe('the words beside it', () => {
  it('never make a margin look larger than it is', () => {
    expect(['0.059', '0.05', '0.0001', '-0.011'].map((margin) => marginWords(Number(margin)))).toEqual(['0.05', '0.05', '0.00', '−0.02']);
  });

  it('say inside, outside or unknown, with limit and source, and nothing else', () => {
    expect(verdictWords(gate())).toBe('The pH of the packed jars is inside: 4.12 ± 0.13, limit 4.3 (CXS 66-1981).');
    expect(verdictWords(gate({ verdict: 'unknown', mean: null, uncertainty: null }))).toContain('unknown: not measured');
  });

  it('offer the jars that were measured, and the next one', () => {
    const entry = (sequence: number, jar: string, standing = true) => ({ sequence, kind: 'jar-ph', at, writtenAt: at, by: 'owner', body: { value: 4, instrument: 'm', jar }, standing, corrects: null, correctedBy: null });
    expect(jarMarks({ entries: [entry(1, '14'), entry(2, 'B'), entry(3, '14'), entry(4, '99', false)] } as never)).toEqual(['14', 'B', '15']);
    expect(jarMarks(null)).toEqual(['1']);
  });
});
