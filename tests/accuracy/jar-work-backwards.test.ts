import { describe, expect, test } from 'vitest';
import type { FinishChance } from '#domain/jar/finish-day.ts';
import { finishBy } from '#domain/jar/finish-day.ts';
import type { MarketBatch, MarketPlan } from '#domain/jar/work-backwards.ts';
import { workBackwards } from '#domain/jar/work-backwards.ts';
import { dayMs, toRfc3339 } from '#domain/units/time.ts';
import { checkAccuracy } from '../helpers/accuracy.ts';
import { expectOutside, valueOf } from '../helpers/result.ts';

const at = (time: string): number => Date.parse(time);

checkAccuracy<FinishChance>({
  quantity: 'day by which a cure likely to take 30 days, 80 % between 20 and 48, is finished', unit: 'days', source: 'log-normal duration; normal quantiles 0.8416 and 1.2816 (from memory)',
  confidence: 'computed from cited inputs by the cited equation', tolerance: 0.05, reason: 'stated to 0.1',
  rows: [[0.5, 30], [0.8, 40.85], [0.9, 48]],
  actual: (chance) => (finishBy(0, { readyFrom: 20 * dayMs, readyLikely: 30 * dayMs, readyTo: 48 * dayMs, openEnded: false }, chance) ?? Number.NaN) / dayMs,
  mistakes: {
    'the end of an 80 % interval taken for P80': (chance) => (chance === 0.5 ? 30 : 48),
    'normal in days instead of in their logarithm': (chance) => 30 + 18 * ({ 0.5: 0, 0.8: 0.8416, 0.9: 1.2816 }[chance] / 1.2816),
  },
});

const started = at('2026-10-10T09:00:00Z');
const batch = (lot: string, [from, likely, to]: readonly [number, number, number], openEnded = false): MarketBatch => ({
  lot, startedAt: started, forecast: { readyFrom: started + from * dayMs, readyLikely: started + likely * dayMs, readyTo: started + to * dayMs, openEnded },
});
const plan: MarketPlan = { marketAt: at('2026-12-20T09:00:00Z'), zone: 'UTC', batches: [batch('early', [20, 30, 45]), batch('even', [35, 45, 70]), batch('late', [40, 60, 90]), batch('open', [20, 40, 900], true), { lot: 'untold', startedAt: started, forecast: null }] };

describe('from the market day back', () => {
  const worked = valueOf(workBackwards(plan));
  test('two weeks of rest (common practice, no source), a week until pH is steady, a day to fill: finished by 28 November', () => {
    expect([worked.releaseBy, worked.jarBy, worked.finishBy].map(toRfc3339)).toEqual(['2026-12-06T08:00:00.000Z', '2026-11-29T08:00:00.000Z', '2026-11-28T08:00:00.000Z']);
    expect(worked.assumed).toEqual(['restDays', 'phStableDays', 'jarringDays']);
  });
  test('which batches make it: in four years of five, in half of them, not, and unknown', () => {
    // Started on 10 October, 28 November is day 48.96; P80 of 30 (to 45) is 39.2, of 45 (to 70) 60.2.
    expect(worked.batches.map(({ lot, onTheTable }) => [lot, onTheTable])).toEqual([['early', 'p80'], ['even', 'p50'], ['late', 'no'], ['open', 'p50'], ['untold', 'unknown']]);
    expect(worked.batches[3]).toMatchObject({ readyP80: null, spareDaysP80: null, latestStartP80: null });
    expect(worked.batches[4]).toMatchObject({ readyP50: null, latestStartP50: null });
  });
  test('what is too late says by how many days, and when its like would have had to start', () => {
    const late = worked.batches[2];
    expect(late?.spareDaysP50).toBeCloseTo(48.9583 - 60, 3);
    expect(((late?.latestStartP50 ?? 0) - started) / dayMs).toBeCloseTo(48.9583 - 60, 3);
    const [moved] = valueOf(workBackwards({ ...plan, batches: [{ ...(plan.batches[2] as MarketBatch), startedAt: late?.latestStartP50 ?? 0, forecast: { readyFrom: 0, readyLikely: (late?.latestStartP50 ?? 0) + 60 * dayMs, readyTo: 1e15, openEnded: true } }] })).batches;
    expect(moved?.onTheTable).toBe('p50');
  });
  test('days are those of the calendar: mornings stay at 08:00 though the clocks went back in between', () => {
    const rome = valueOf(workBackwards({ ...plan, zone: 'Europe/Rome', marketAt: at('2026-11-10T09:00:00Z') }));
    expect([rome.releaseBy, rome.finishBy].map(toRfc3339)).toEqual(['2026-10-27T07:00:00.000Z', '2026-10-19T06:00:00.000Z']);
  });
  test('longer rests move everything back by as much', () => {
    const longer = valueOf(workBackwards({ ...plan, restDays: 28 }));
    expect((worked.finishBy - longer.finishBy) / dayMs).toBe(14);
    expect(longer.batches.map(({ onTheTable }) => onTheTable)).toEqual(['p50', 'no', 'no', 'no', 'unknown']);
  });
});

test('outside the valid range: less than the three days that two readings take, among others', () => {
  expectOutside(workBackwards({ ...plan, phStableDays: 2 }), 'phStableDays');
  expectOutside(workBackwards({ ...plan, restDays: -1 }), 'restDays');
  expectOutside(workBackwards({ ...plan, jarringDays: Number.NaN }), 'jarringDays');
  expectOutside(workBackwards({ ...plan, marketAt: Number.NaN }), 'marketAt');
});
