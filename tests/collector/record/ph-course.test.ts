import { describe, expect, it } from 'vitest';
import { gapReason } from '#domain/record/gap-reason.ts';
import type { HandValue } from '#domain/record/lot-record.ts';
import { phCourse } from '#domain/record/ph-course.ts';
import type { Alert } from '#domain/rules/alert.ts';
import { dayMs, toRfc3339 } from '#domain/units/time.ts';

const start = Date.UTC(2026, 9, 1, 6);
const hand = (day: number, value: number, notUsable: string | null = null): HandValue => ({
  entry: day, at: toRfc3339(start + day * dayMs), of: 'drum', quantity: 'ph', value, unit: 'pH', uncertainty: 0.12, instrument: 'meter-1', jar: null, by: 'owner', notUsable,
});
const course = (values: readonly HandValue[]): ReturnType<typeof phCourse> => phCourse({ startedAt: start }, values, undefined, true, 'UTC');

/** pH never latches: 4.6 (21 CFR 114.3) that was reached can be lost again. */
describe('the course of the pH in a drum', () => {
  it('counts the day on which value and uncertainty together first kept 4.6', () => {
    // 4.50 + 0.12 is above; a rule by the value alone would say day 11.
    expect(course([hand(5, 5.1), hand(10, 4.5), hand(15, 4.4), hand(20, 4.1)])).toMatchObject({ firstAt: toRfc3339(start + 15 * dayMs), day: 16, lostAt: null, last: { value: 4.1 } });
  });

  it('tells that it was lost again, and until when', () => {
    expect(course([hand(15, 4.2), hand(20, 4.7), hand(25, 4.8), hand(30, 4.3)])).toMatchObject({ day: 16, lostAt: toRfc3339(start + 25 * dayMs) });
  });

  it('counts nothing that is no evidence', () => {
    expect(course([hand(15, 4.2, 'strip')])).toBeNull();
    expect(course([hand(15, 4.2, 'strip'), hand(20, 4.55)])).toMatchObject({ firstAt: null, day: null });
  });
});

describe('the reason of a gap', () => {
  const silent = { id: 's1', rule: 'temperature-silent', excursions: [{ from: start, to: start + dayMs, peak: null }] } as unknown as Alert;
  const alertActions = new Map([['s1', [{ at: start, by: 'user:maria', text: 'power cut', disposition: null }]]]);

  it('is what somebody wrote beside the alert about the silence, and of that quantity and time only', () => {
    expect(gapReason([silent], { alertActions }, 'temperature', { from: start + 1, to: start + 2 })).toBe('power cut (maria)');
    expect(gapReason([silent], { alertActions }, 'ph', { from: start + 1, to: start + 2 })).toBeNull();
    expect(gapReason([silent], { alertActions }, 'temperature', { from: start + dayMs, to: start + 2 * dayMs })).toBeNull();
    expect(gapReason([silent], { alertActions: new Map() }, 'temperature', { from: start + 1, to: start + 2 })).toBeNull();
  });
});
