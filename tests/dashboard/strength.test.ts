import { describe, expect, it } from 'vitest';
import { barrierPercent, caution, strengthOf } from '../../dashboard/state/strength.ts';
import { suggestedBrine } from '../../dashboard/state/suggested-brine.ts';
import { settles } from '../../dashboard/state/task-act.ts';
import type { BatchDetail, Task } from '#contract';

describe('how strong a brine is', () => {
  it('is told by mass, not by grams in a litre', () => {
    // CRC handbook, sodium chloride at 20 °C: 6.0 % by mass is 1.0413 g/mL, 62.5 g in a litre (from memory).
    expect(strengthOf(62.5, 26, null)?.pouredPercent).toBeCloseTo(6.0, 1);
    // Taking 60 g in a litre for 6 % would be the plausible slip.
    expect(strengthOf(60, 26, null)?.pouredPercent).toBeLessThan(5.85);
  });

  it('falls when the fruit takes its share', () => {
    const strength = strengthOf(100, 25, 33);
    expect(strength?.settledPercent).toBeLessThan(strength?.pouredPercent ?? 0);
    expect(strengthOf(100, 25, null)?.settledPercent).toBeNull();
  });

  it('is not guessed beyond saturation', () => {
    expect(strengthOf(357, 25, null)).toBeNull();
  });
});

describe('the caution beside it', () => {
  const at = (gPerL: number, fruitKg: number | null = null): string | null => caution(gPerL, strengthOf(gPerL, 25, fruitKg));

  it('names plain water, weak brine and brine that will settle weak', () => {
    expect(at(0)).toContain('Plain water holds nothing back');
    expect(at(60)).toContain(`Under ${String(barrierPercent)} %`);
    expect(at(63.5)).toBeNull();
    expect(at(90, 33)).toContain('settle under');
    for (const words of [at(0), at(60), at(90, 33)]) expect(words).toContain('ocal rules apply');
  });

  it('never calls anything safe to eat', () => {
    for (const gPerL of [0, 30, 62, 63, 120, 357]) expect(at(gPerL, 20) ?? '').not.toMatch(/safe/i);
  });
});

describe('what a change will most likely be', () => {
  const act = (sequence: number, day: number, saltGPerL: number, standing = true) => ({ sequence, kind: 'brine-changed', at: `2027-06-0${String(day)}T00:00:00Z`, writtenAt: '', by: '', body: { brineL: 24, saltGPerL }, standing, corrects: null, correctedBy: null });
  const batch = { brineL: 26, saltGPerL: 100, trace: { brineShare: 1 }, entries: [act(1, 2, 60), act(2, 5, 80), act(3, 7, 999, false)] } as unknown as BatchDetail;
  const task = { kind: 'change-brine', needs: { brineL: 20, saltG: 1_300 } } as unknown as Task;

  it('is what the task asks for, else as last time, else as at the start', () => {
    expect(suggestedBrine({ volumeL: 60, nextTask: task, batch: null }, batch)).toEqual({ brineL: 20, saltG: 1_300 });
    expect(suggestedBrine({ volumeL: 60, nextTask: null, batch: null }, batch)).toEqual({ brineL: 24, saltG: 1_920 });
    expect(suggestedBrine({ volumeL: 60, nextTask: null, batch: null }, { ...batch, entries: [] })).toEqual({ brineL: 26, saltG: 2_600 });
    // Without its story, the drum still knows what it was started with.
    expect(suggestedBrine({ volumeL: 60, nextTask: null, batch }, null)).toEqual({ brineL: 26, saltG: 2_600 });
  });

  it('settles the task it belongs to, and no other', () => {
    const at = '2027-06-11T00:00:00Z';
    expect(settles(task, { kind: 'brine-changed', at, brineL: 20, saltGPerL: 65 })).toBe(true);
    expect(settles(task, { kind: 'tasted', at, bitterness: 4 })).toBe(false);
    const ph = { kind: 'measure-ph' } as unknown as Task;
    expect(settles(ph, { kind: 'measured', at, quantity: 'ph', value: 4.2 })).toBe(true);
    expect(settles(ph, { kind: 'measured', at, quantity: 'salinity', value: 60 })).toBe(false);
    expect(settles({ kind: 'measure-salt' }, { kind: 'measured', at, quantity: 'salinity', value: 60 })).toBe(true);
    expect(settles({ kind: 'look' }, { kind: 'skimmed', at })).toBe(true);
    expect(settles({ kind: 'look' }, { kind: 'tasted', at, bitterness: 4 })).toBe(false);
    expect(settles({ kind: 'review' }, { kind: 'observed', at, sign: 'all-well' })).toBe(false);
  });
});
