import { describe, expect, it } from 'vitest';
import { createDoubledTouch, type Touch } from '../../dashboard/state/doubled-touch.ts';

describe('a doubled touch', () => {
  const first: Touch = { x: 100, y: 700, atMs: 1_000, control: 'row' };
  const after = (over: Partial<Touch>): boolean => {
    const isDoubled = createDoubledTouch();
    expect(isDoubled(first)).toBe(false);
    return isDoubled({ ...first, ...over });
  };

  it('is one at the same place, at once, on what has come to lie there since', () => {
    expect(after({ atMs: 1_180, control: 'score 7' })).toBe(true);
    expect(after({ atMs: 1_180, x: 116, y: 712, control: 'score 7' })).toBe(true);
  });

  it('is none on the same key, elsewhere on the glass, or when there was time to read', () => {
    expect(after({ atMs: 1_120 })).toBe(false);
    expect(after({ atMs: 1_180, y: 780, control: 'score 2' })).toBe(false);
    expect(after({ atMs: 1_420, control: 'score 7' })).toBe(false);
  });

  it('is judged by the touch before it alone', () => {
    const isDoubled = createDoubledTouch();
    isDoubled(first);
    expect(isDoubled({ ...first, atMs: 1_150, control: 'score 7' })).toBe(true);
    expect(isDoubled({ ...first, atMs: 1_700, control: 'score 7' })).toBe(false);
  });
});
