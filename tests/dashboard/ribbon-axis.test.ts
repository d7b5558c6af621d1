import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { dayMs, type Ribbon } from '#contract';
import { sharedSpan, textWidth, ticksOn, xOn } from '../../dashboard/parts/ribbon/axis.ts';

const zone = 'Australia/Adelaide';
const now = Date.parse('2027-06-11T04:54:00Z');
const noToday = { from: -1_000, to: -999 };
const cure = (from: number, to: number, over: Partial<Ribbon> = {}): Pick<Ribbon, 'from' | 'to' | 'forecast' | 'jarredAt'> => ({ from: now + from * dayMs, to: now + to * dayMs, forecast: { unknown: '' }, jarredAt: null, ...over });

const localParts = (t: number): string => new Intl.DateTimeFormat('en-GB', { timeZone: zone, weekday: 'short', hour: '2-digit', minute: '2-digit' }).format(t);

describe('the calendar shared by all drums', () => {
  it('spans every cure, and at least six weeks', () => {
    const span = sharedSpan([cure(-40, 10), cure(-5, 30)], now);
    expect(span.from).toBeLessThan(now - 40 * dayMs);
    expect(span.to).toBeGreaterThan(now + 30 * dayMs);
    const short = sharedSpan([cure(-3, 3)], now);
    expect((short.to - short.from) / dayMs).toBeGreaterThan(42);
  });

  it('cuts a very long cure rather than squeezing the others flat', () => {
    const span = sharedSpan([cure(-400, 900)], now);
    expect((now - span.from) / dayMs).toBeLessThan(220);
    expect((span.to - now) / (now - span.from)).toBeLessThan(1.8);
  });

  it('runs on far enough that words fit beside the furthest haze', () => {
    const at = (days: number): string => new Date(now + days * dayMs).toISOString();
    const forecast = { readyFrom: at(5), readyLikely: at(20), readyTo: at(35), basis: '' };
    const span = sharedSpan([cure(-20, 35, { forecast })], now);
    expect((span.to - Date.parse(forecast.readyTo)) / (span.to - span.from)).toBeGreaterThan(0.19);
  });

  it('gives what lies ahead little more room than what has been', () => {
    const span = sharedSpan([cure(-41, 126)], now);
    expect((now - span.from) / (span.to - span.from)).toBeGreaterThan(0.35);
  });

  it('ticks on Mondays at local midnight, also after the clocks change', () => {
    // Adelaide puts its clocks forward on the first Sunday of October (tz database), within this stretch.
    const axis = { from: Date.parse('2027-09-13T00:00:00Z'), to: Date.parse('2027-11-01T00:00:00Z'), width: 900 };
    const ticks = ticksOn(axis, { zone, textPx: 18, today: noToday });
    expect(ticks.length).toBeGreaterThan(5);
    expect(new Set(ticks.map(({ t }) => localParts(t)))).toEqual(new Set(['Mon 00:00']));
    // Seven times 24 hours from the first tick would have slipped to one in the morning.
    expect(localParts((ticks[0]?.t ?? 0) + 42 * dayMs)).toBe('Mon 01:00');
  });

  it('never lets two labels, or a label and the mark of today, touch', () => {
    fc.assert(
      fc.property(fc.integer({ min: 20, max: 360 }), fc.integer({ min: 120, max: 2_400 }), fc.integer({ min: 12, max: 30 }), fc.double({ min: 0, max: 1, noNaN: true }), (days, width, textPx, share) => {
        const axis = { from: now - days * share * dayMs, to: now + days * (1 - share) * dayMs, width };
        const x = xOn(axis, now);
        const today = { from: x - 40, to: x + 40 };
        const spans = ticksOn(axis, { zone, textPx, today })
          .filter(({ label }) => label !== '')
          .map(({ x: middle, label }) => ({ from: middle - textWidth(label, textPx) / 2, to: middle + textWidth(label, textPx) / 2 }));
        for (const [index, span] of spans.entries()) {
          const next = spans[index + 1];
          expect(next === undefined || next.from > span.to).toBe(true);
          expect(span.to < today.from || span.from > today.to).toBe(true);
        }
      }),
    );
  });
});
