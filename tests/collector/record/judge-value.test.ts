import { describe, expect, it } from 'vitest';
import { judgeValue, type Found } from '#domain/record/judge-value.ts';

const found = (over: Partial<Found>): Found => ({ side: 'high', limit: 4.3, worst: 4.08, uncertainty: 0.1, notUsable: null, watched: null, ...over });
const outcome = (over: Partial<Found>): string => judgeValue(found(over)).outcome;

/** Guarded acceptance (JCGM 106:2012, from memory): inside only where value and uncertainty together keep the limit. */
describe('a value against a limit', () => {
  it('is inside only with its uncertainty, on either side', () => {
    // The example of a paper: pH 4.08 ± 0.10 against 4.30; NaCl 6.4 ± 0.3 % against at least 6 %, temperature 25.9 ± 0.5 against 25.
    expect(outcome({})).toBe('inside');
    expect(outcome({ side: 'low', limit: 6, worst: 6.4, uncertainty: 0.3 })).toBe('inside');
    expect(outcome({ limit: 25, worst: 25.9, uncertainty: 0.5 })).toBe('outside');
    // A rule that looked at the value alone would call these inside.
    expect(judgeValue(found({ worst: 4.25 }))).toEqual({ outcome: 'unknown', why: 'too close to say' });
    expect(outcome({ side: 'low', limit: 6, worst: 6.2, uncertainty: 0.3 })).toBe('unknown');
    expect(outcome({ side: 'low', limit: 6, worst: 5.9, uncertainty: 0.3 })).toBe('outside');
  });

  it('meets the limit exactly without the last bit of binary numbers in the way', () => {
    // 4.15 + 0.15 > 4.30 in binary floating point.
    expect(4.15 + 0.15 > 4.3).toBe(true);
    expect(outcome({ worst: 4.15, uncertainty: 0.15 })).toBe('inside');
    expect(outcome({ worst: 4.16, uncertainty: 0.15 })).toBe('unknown');
  });

  it('is unknown where nothing was measured, the instrument was not checked, or too little was observed', () => {
    expect(judgeValue(found({ worst: null }))).toEqual({ outcome: 'unknown', why: 'not measured' });
    expect(judgeValue(found({ notUsable: 'not calibrated' }))).toEqual({ outcome: 'unknown', why: 'not calibrated' });
    expect(outcome({ watched: { share: 0.949, longestGapHours: 1 } })).toBe('unknown');
    expect(outcome({ watched: { share: 0.95, longestGapHours: 24 } })).toBe('inside');
    expect(outcome({ watched: { share: 0.99, longestGapHours: 24.1 } })).toBe('unknown');
  });

  it('stays outside whatever else is in doubt', () => {
    expect(outcome({ worst: 4.4, notUsable: 'not calibrated', watched: { share: 0.1, longestGapHours: 200 } })).toBe('outside');
  });
});
