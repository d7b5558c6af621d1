import { describe, expect, it } from 'vitest';
import { dayMs } from '#contract';
import { ghostOn, outlookSpan, whatIfRange, whatIfTitle, type WhatIf } from '../../dashboard/state/what-ifs.ts';

const start = Date.UTC(2026, 10, 1);
const on = (day: number): string => new Date(start + day * dayMs).toISOString();
const range = (from: number, likely: number, to: number): WhatIf['forecast'] => ({ readyFrom: on(from), readyLikely: on(likely), readyTo: on(to), basis: '' });
const warmer: WhatIf = { title: '2 °C warmer', warmerC: 2, changes: 'as-planned', forecast: range(40, 44, 50), laterDays: -2.6, caution: null };
const plain = (text: string): string => text.replaceAll('\u00a0', ' ');

describe('what if, in words', () => {
  it('is a range and how much sooner or later', () => {
    expect(plain(whatIfRange(warmer, 'UTC'))).toBe('11 – 21 Dec, about 3 days sooner');
    expect(plain(whatIfRange({ ...warmer, laterDays: 0.1 }, 'UTC'))).toBe('11 – 21 Dec, hardly any difference');
    expect(plain(whatIfRange({ ...warmer, laterDays: 1 }, 'UTC'))).toBe('11 – 21 Dec, about a day later');
    expect(whatIfRange({ ...warmer, forecast: { unknown: 'too cold' } }, 'UTC')).toBe('too cold');
  });

  it('tells degrees as the person reads them, as a difference', () => {
    const mass = { mass: 'g', volume: 'L' } as const;
    expect(whatIfTitle(warmer, { ...mass, temperature: 'C' })).toBe('2 °C warmer');
    expect(whatIfTitle(warmer, { ...mass, temperature: 'F' })).toBe('3.6 °F warmer');
  });
});

describe('ghost ranges', () => {
  const ribbon = { from: start, to: start + 50 * dayMs };
  const now = start + 30 * dayMs;

  it('lie on the strip of the ribbon, which reaches as far as they do', () => {
    const span = outlookSpan(ribbon, [{ forecast: range(60, 65, 70) }], now);
    expect(span.to).toBeGreaterThan(start + 70 * dayMs);
    const ghost = ghostOn({ forecast: range(60, 65, 70) }, span);
    expect(ghost?.open).toBe(false);
    expect((ghost?.to ?? 0) - (ghost?.from ?? 0)).toBeCloseTo((100 * 10 * dayMs) / (span.to - span.from), 6);
  });

  it('run on past the edge where they are too far to be shown', () => {
    const span = outlookSpan(ribbon, [{ forecast: range(60, 300, 900) }], now);
    expect(span.to).toBeLessThan(start + 100 * dayMs);
    expect(ghostOn({ forecast: range(60, 300, 900) }, span)).toMatchObject({ open: true, likely: null, to: 100 });
    expect(ghostOn({ forecast: { unknown: '' } }, span)).toBeNull();
  });
});
