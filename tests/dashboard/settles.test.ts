import { describe, expect, it } from 'vitest';
import { dayMs, fleshWaterL, percentWwFrom, settledPercentWw, type BatchDetail, type StoryEntry } from '#contract';
import { saltNow, settlesAt } from '../../dashboard/state/settles.ts';

const start = Date.parse('2027-06-01T00:00:00Z');
const day = (n: number): number => start + n * dayMs;
const act = (kind: string, at: number, body: StoryEntry['body'], standing = true): StoryEntry => ({ sequence: 1, kind, at: new Date(at).toISOString(), writtenAt: '', by: '', body, standing, corrects: null, correctedBy: null });
const batch = (over: Partial<BatchDetail> = {}): BatchDetail => ({ startedAt: new Date(start).toISOString(), cut: 'slit', fruitKg: 28.6, brineL: 26.5, saltGPerL: 107, entries: [], ...over }) as BatchDetail;
const percentOf = (gPerL: number, temperatureC = 18): number => {
  const percent = percentWwFrom('g-per-l', gPerL, temperatureC);
  return percent.ok ? percent.value : Number.NaN;
};

/**
 * Mass balance: salt in brine and flesh together is spread over the water of both (the equation of the published settling, which is in % of
 * mass; here in g/L, which is why they agree to a tenth of a percent and not better).
 */
describe('where a new brine settles', () => {
  it('on fresh fruit is the mass balance of brine and flesh water: 10 % on 15.4 kg of flesh water goes to 6.5 % (computed from that balance)', () => {
    const settled = settlesAt(batch({ entries: [] }), { brineL: 26.5, saltGPerL: 107, fraction: 1 }, start, 20);
    const byMass = settledPercentWw({ volumeL: 26.5, percentWw: percentOf(107, 20) }, fleshWaterL({ fruitKg: 28.6 }), 20);
    expect(settled?.percent).toBeCloseTo(6.5, 1);
    expect(byMass.ok && settled !== null ? Math.abs(byMass.value - settled.percent) : 9).toBeLessThan(0.1);
  });

  it('on fruit that has long shared a brine of the same strength is that strength', () => {
    const long = batch({ entries: [10, 20, 30, 40, 50, 60].map((n) => act('brine-changed', day(n), { brineL: 26.5, saltGPerL: 80 })) });
    expect(settlesAt(long, { brineL: 26.5, saltGPerL: 80, fraction: 1 }, day(70))?.percent).toBeCloseTo(percentOf(80), 1);
    // Taken for fresh fruit it would be thought far weaker: the usual mistake.
    expect(settlesAt(batch(), { brineL: 26.5, saltGPerL: 80, fraction: 1 }, start)?.percent).toBeLessThan(percentOf(80) - 2);
  });

  it('lies between the flesh and the brine, and nearer to the flesh for half a change', () => {
    const told = batch({ entries: [act('brine-changed', day(2), { brineL: 26.5, saltGPerL: 60 })] });
    const whole = settlesAt(told, { brineL: 26.5, saltGPerL: 120, fraction: 1 }, day(5));
    const half = settlesAt(told, { brineL: 26.5, saltGPerL: 120, fraction: 0.5 }, day(5));
    expect(whole?.percent).toBeLessThan(percentOf(120));
    expect(half?.percent).toBeLessThan(whole?.percent ?? 0);
    expect(half?.percent).toBeGreaterThan(percentOf(saltNow(told, day(5)).saltGPerL) - 2);
  });

  it('has a range that holds it, narrower the more the fruit has had its share', () => {
    const fresh = settlesAt(batch(), { brineL: 26.5, saltGPerL: 107, fraction: 1 }, start);
    const later = settlesAt(batch({ entries: [3, 6, 10, 17, 24].map((n) => act('brine-changed', day(n), { brineL: 26.5, saltGPerL: 107 })) }), { brineL: 26.5, saltGPerL: 107, fraction: 1 }, day(31));
    for (const each of [fresh, later]) {
      expect(each?.lowPercent).toBeLessThanOrEqual(each?.percent ?? 0);
      expect(each?.highPercent).toBeGreaterThanOrEqual(each?.percent ?? 99);
    }
    const width = (each: typeof fresh): number => (each === null ? Number.NaN : each.highPercent - each.lowPercent);
    expect(width(later)).toBeLessThan(width(fresh) / 2);
  });

  it('takes longer for whole fruit than for cracked', () => {
    const days = (cut: BatchDetail['cut']) => settlesAt(batch({ cut }), { brineL: 26.5, saltGPerL: 107, fraction: 1 }, start)?.inDays ?? 0;
    expect(days('whole')).toBeGreaterThan(3 * days('cracked'));
  });

  it('leaves out what was corrected, and what happened after', () => {
    const told = batch({ entries: [act('brine-changed', day(2), { brineL: 26.5, saltGPerL: 300 }, false), act('brine-changed', day(9), { brineL: 26.5, saltGPerL: 300 })] });
    expect(settlesAt(told, { brineL: 26.5, saltGPerL: 80, fraction: 1 }, day(5))).toEqual(settlesAt(batch(), { brineL: 26.5, saltGPerL: 80, fraction: 1 }, day(5)));
  });

  it('is not told of nothing', () => {
    expect(settlesAt(batch({ fruitKg: 0 }), { brineL: 26.5, saltGPerL: 80, fraction: 1 }, day(5))).toBeNull();
    expect(settlesAt(batch(), { brineL: 0, saltGPerL: 80, fraction: 1 }, day(5))).toBeNull();
  });
});

describe('what is in the brine now', () => {
  it('falls as the fruit takes its share, and is lifted by salt that is added', () => {
    expect(saltNow(batch(), start).saltGPerL).toBeCloseTo(107, 6);
    const after = saltNow(batch(), day(10)).saltGPerL;
    expect(after).toBeLessThan(80);
    const salted = saltNow(batch({ entries: [act('salt-added', day(10), { saltG: 530 })] }), day(10)).saltGPerL;
    expect(salted - after).toBeCloseTo(530 / 26.5, 6);
  });

  it('is thinned by water that is topped up', () => {
    const topped = saltNow(batch({ entries: [act('brine-topped-up', day(10), { brineL: 2.65, saltGPerL: 0 })] }), day(10)).saltGPerL;
    expect(topped).toBeCloseTo((saltNow(batch(), day(10)).saltGPerL * 26.5) / (26.5 + 2.65), 6);
  });
});
