import { describe, expect, it } from 'vitest';
import { nowValue, slopePerHour, type NowSources } from '#domain/reading/now.ts';
import { hourMs, minuteMs } from '#domain/units/time.ts';

const now = Date.UTC(2026, 4, 3, 6, 0, 0);
const sources = (more: Partial<NowSources>): NowSources => ({ channel: 'temperature', watched: true, recent: [], staleAfterMs: 10 * minuteMs, measured: null, trendPerHour: 0.4, ...more });
const reading = (ageMs: number, value = 18, quality: 'good' | 'disconnected' = 'good') => ({ series: 'p/temperature', at: now - ageMs, value, quality }) as const;

describe('what is known now', () => {
  it('is a reason where there is nothing', () => {
    expect(nowValue(sources({ watched: false }), now)).toEqual({ absent: 'no-probe' });
    expect(nowValue(sources({}), now)).toEqual({ absent: 'no-reading' });
  });

  it('is stale once the probe is late, and then has no trend', () => {
    expect(nowValue(sources({ recent: [reading(10 * minuteMs)] }), now)).toMatchObject({ quality: 'good', trendPerHour: 0.4 });
    expect(nowValue(sources({ recent: [reading(10 * minuteMs + 1)] }), now)).toMatchObject({ quality: 'stale', trendPerHour: null, value: 18 });
  });

  it('names the fault before the age', () => {
    expect(nowValue(sources({ recent: [reading(hourMs, -127, 'disconnected')] }), now)).toMatchObject({ quality: 'disconnected' });
  });

  it('believes whichever is newer, the probe or the person', () => {
    const recent = [reading(minuteMs)];
    expect(nowValue(sources({ recent, measured: { value: 17, at: now } }), now)).toMatchObject({ value: 17, source: 'person' });
    expect(nowValue(sources({ recent, measured: { value: 17, at: now - hourMs } }), now)).toMatchObject({ value: 18, source: 'probe' });
  });

  it('has the slope of the least-squares line as its trend', () => {
    const points = [0, 10, 20, 30].map((minutes) => ({ t: now + minutes * minuteMs, mean: 18 + minutes / 60 }));
    expect(slopePerHour(points)).toBeCloseTo(1, 12);
    expect(slopePerHour(points.slice(0, 2))).toBeNull();
  });
});
