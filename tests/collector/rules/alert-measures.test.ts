import { describe, expect, it } from 'vitest';
import { measureAlerts } from '#domain/rules/alert-measures.ts';
import type { Alert } from '#domain/rules/alert.ts';
import { dayMs, hourMs, minuteMs, secondMs, type EpochMs } from '#domain/units/time.ts';

/** Floods and chattering by ISA-18.2 (from memory): more than ten in ten minutes until fewer than five; three times within a minute. */
const from = Date.UTC(2026, 9, 1);
const to = from + 10 * dayMs;

const alertOf = (rule: string, times: readonly EpochMs[], more: Partial<Alert> = {}): Alert => ({
  id: rule, rule, drum: 'barrel-1', lot: null, quantity: 'temperature', priority: 'low', state: 'normal', since: times[0] ?? from, raisedAt: times[0] ?? from, returnedAt: null, acknowledgedBy: null, acknowledgedAt: null,
  value: null, peak: null, limit: { value: null, unit: '', source: '', side: null }, text: '', advice: '', shelf: null, excursions: times.map((at) => ({ from: at, to: at + secondMs, peak: null })), ...more,
});

const every = (count: number, ms: number, at = from): EpochMs[] => Array.from({ length: count }, (_each, index) => at + index * ms);

describe('how well alerts serve', () => {
  it('an empty time has no alerts and no flood', () => {
    expect(measureAlerts([], from, to)).toMatchObject({ count: 0, perDay: 0, mostInTenMinutes: 0, busyShare: 0, floodShare: 0, stale: 0, mostFrequent: [], mostFrequentShare: 0 });
  });

  it('ten in ten minutes are no flood, eleven are, until fewer than five are left of them', () => {
    expect(measureAlerts([alertOf('a', every(10, 30 * secondMs))], from, to).floodShare).toBe(0);
    // Eleven, 30 s apart: the eleventh begins it at 5 min; at 13 min the seventh drops out and four are left.
    const measures = measureAlerts([alertOf('a', every(11, 30 * secondMs))], from, to);
    expect(measures.floodShare * (to - from)).toBeCloseTo(8 * minuteMs, 3);
    expect(measures.mostInTenMinutes).toBe(11);
    expect(measures.busyShare).toBeCloseTo(1 / 1_440, 10);
  });

  it('the worst ten minutes are found across the turn of the clock', () => {
    expect(measureAlerts([alertOf('a', every(6, minuteMs, from + 7 * minuteMs))], from, to)).toMatchObject({ mostInTenMinutes: 6, busyShare: 0 });
  });

  it('chattering is one and the same three times in a minute, not three of different drums', () => {
    const spread = [alertOf('a', [from], { drum: 'x' }), alertOf('a', [from + secondMs], { drum: 'y' }), alertOf('a', [from + 2 * secondMs], { drum: 'z' })];
    expect(measureAlerts(spread, from, to).chattering).toEqual([]);
    expect(measureAlerts([alertOf('a', every(3, 20 * secondMs))], from, to).chattering).toEqual([{ rule: 'a', drum: 'barrel-1', count: 3, share: 1 }]);
    expect(measureAlerts([alertOf('a', every(3, 31 * secondMs))], from, to).chattering).toEqual([]);
  });

  it('counts per day, by priority, what is stale, and names the ten most frequent', () => {
    const many = Array.from({ length: 12 }, (_each, index) => alertOf(`r${String(index).padStart(2, '0')}`, every(index + 1, hourMs)));
    const open = alertOf('open', [to - 25 * hourMs], { priority: 'high', excursions: [{ from: to - 25 * hourMs, to: null, peak: null }] });
    const measures = measureAlerts([...many, open], from, to);
    expect(measures).toMatchObject({ count: 79, perDay: 7.9, stale: 1, byPriority: { high: 1, medium: 0, low: 78, note: 0 } });
    expect(measures.mostFrequent.map(({ rule, count }) => [rule, count])).toEqual([12, 11, 10, 9, 8, 7, 6, 5, 4, 3].map((count) => [`r${String(count - 1).padStart(2, '0')}`, count]));
    expect(measures.mostFrequentShare).toBeCloseTo(75 / 79, 10);
  });

  it('leaves out what lies outside the span', () => {
    expect(measureAlerts([alertOf('a', [from - 1, from, to])], from, to).count).toBe(1);
  });
});
