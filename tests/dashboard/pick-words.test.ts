import { describe, expect, it } from 'vitest';
import type { Pick } from '#contract';
import { clockWords, massWords, maturityWords, openPicks, placeWords, waysOf } from '../../dashboard/state/pick-words.ts';

const pick = (over: Partial<Pick> = {}): Pick => ({
  pick: 'P26-AJ', at: '2026-05-03T07:00:00.000Z', until: null, trees: [], block: null, variety: null, pickedKg: null, buckets: null, bucketKg: null, maturity: null, spread: null, damage: {}, note: null, by: 'owner',
  sortings: [], culls: [], culledKg: 0, batches: [], inBatchesKg: 0, unaccountedKg: null, overKg: 0, clock: { hours: 1.9, withinHours: 24, state: 'waiting' }, warnings: [], takenBack: null, ...over,
});

describe('what is said of a pick', () => {
  it('of which nothing is known yet is that', () => {
    expect([placeWords(pick()), massWords(pick()), maturityWords(pick())]).toEqual(['trees not told yet', 'not weighed yet', 'ripeness not told yet']);
    expect(waysOf(pick(), (id) => id)).toEqual([]);
    expect(openPicks([pick()])).toHaveLength(1);
  });

  it('says the commonest class, and by eye where nobody counted', () => {
    expect(maturityWords(pick({ maturity: { stage: 'turning', index: 2.42, counts: [5, 20, 35, 20, 12, 5, 2, 1] } }))).toBe('turning, index 2.4; most common: green with reddish spots on less than half');
    expect(maturityWords(pick({ maturity: { stage: 'black', index: null, counts: null } }))).toBe('black, by eye');
  });

  it('says how it was measured, whole hours, and nothing of a clock for what never was', () => {
    expect(massWords(pick({ pickedKg: 36, buckets: 4, bucketKg: 9 }))).toBe('36 kg, 4 buckets');
    expect(massWords(pick({ pickedKg: 35.2, buckets: 4, bucketKg: 9 }))).toBe('35.2 kg');
    expect(clockWords(pick())).toEqual({ mark: 'waiting', text: '1 h since it was picked, of 24 h' });
    expect(clockWords(pick({ takenBack: 'a slip' }))).toBeNull();
  });

  it('tells every way the fruit went, and what is unaccounted', () => {
    const told = pick({ pickedKg: 42, batches: [{ lot: 'ST26-A7', drum: 'barrel-2', kg: 36, stage: 'leach' }], culls: [{ cause: 'hail', kg: 2 }], culledKg: 2, unaccountedKg: 4 });
    expect(waysOf(told, () => 'Barrel 2').map(({ text }) => text)).toEqual(['36 kg in ST26-A7, Barrel 2', '2 kg sorted out: hail 2 kg', '4 kg unaccounted for']);
    expect(openPicks([told, pick({ unaccountedKg: 0.4, pickedKg: 30 }), pick({ takenBack: 'a slip' })])).toEqual([told]);
  });
});
