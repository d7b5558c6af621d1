import { describe, expect, it } from 'vitest';
import { defaultBufferUncertainty, phUncertainty } from '#domain/acid/ph-uncertainty.ts';
import { channels } from '#domain/reading/channel.ts';
import { sideOf } from '#domain/rules/range.ts';
import { defaultLimits } from '#domain/rules/default-limits.ts';

describe('the guard band of pH', () => {
  // JCGM 100:2008 (GUM), section 4.3.7 and 6.2: rectangular half-widths over the root of three, coverage factor 2; half-widths as in the formula's source.
  it('is the uncertainty of a meter checked that day, and limits use it', () => {
    const meter = phUncertainty({ percentWw: 10, calibrationAgeDays: 0, resolution: 0.01, bufferUncertainty: defaultBufferUncertainty });
    const byHand = 2 * Math.sqrt((0.02 ** 2 + 0.1 ** 2 + 0.005 ** 2) / 3);
    expect(meter.ok ? meter.value.expanded : 0).toBeCloseTo(byHand, 12);
    expect(channels.ph.uncertainty).toBeCloseTo(byHand, 2);
    const limit = defaultLimits.find(({ id }) => id === 'kept-brine-hold-ph-danger');
    if (limit === undefined || limit.high === null) throw new Error('the limit is gone');
    // 4.49 may be 4.61, above 4.6; a band of 0.1 would have let it pass.
    expect(sideOf(limit, channels.ph.uncertainty, 4.49)).toBe('high');
    expect(sideOf(limit, channels.ph.uncertainty, 4.47)).toBeNull();
    expect(sideOf(limit, 0.1, 4.49)).toBeNull();
  });
});
