import { describe, expect, it } from 'vitest';
import { defaultLimits } from '#domain/rules/default-limits.ts';
import { addToExposure, exposureAt, judgeExposure, startExposure, type ExposureDraft } from '#domain/rules/exposure.ts';
import type { Limit } from '#domain/rules/limit.ts';
import { dayMs, hourMs, minuteMs, type EpochMs } from '#domain/units/time.ts';

/** Degree-hours by hand: hours × (°C - 25), from the definition. The base and the limit of 120 are assumptions of this project. */
const start = Date.UTC(2026, 8, 7, 6);
const limit = defaultLimits.find(({ kind }) => kind === 'exposure') as Limit;

const warm = (hours: number, temperatureAt: (hour: number) => number, from: EpochMs = start): ExposureDraft => {
  const draft = startExposure(from);
  for (let minute = 0; minute < hours * 60; minute += 10) addToExposure(draft, from + minute * minuteMs, temperatureAt(minute / 60), 1);
  return draft;
};

describe('exposure', () => {
  it('is hours times degrees above 25 °C of whole six hours', () => {
    expect(exposureAt(warm(30, () => 26), start + 30 * hourMs)).toEqual({ degreeHours: 30, hoursAbove: 30, hoursKnown: 30 });
    // Five of the last six hours are read, and judged when the six are over.
    expect(exposureAt(warm(29, () => 26), start + 29 * hourMs)).toEqual({ degreeHours: 24, hoursAbove: 24, hoursKnown: 24 });
    expect(exposureAt(warm(29, () => 26), start + 30 * hourMs)).toEqual({ degreeHours: 30, hoursAbove: 30, hoursKnown: 30 });
  });

  it('never takes cool hours off warm ones', () => {
    expect(exposureAt(warm(24, (hour) => (hour < 12 ? 30 : 10)), start + dayMs)).toEqual({ degreeHours: 60, hoursAbove: 12, hoursKnown: 24 });
    expect(exposureAt(warm(24, () => 25), start + dayMs)).toEqual({ degreeHours: 0, hoursAbove: 0, hoursKnown: 24 });
  });

  it('counts nothing before the start of the cure, nor for hours nobody measured', () => {
    const from = start + 4 * hourMs;
    expect(exposureAt(warm(2, () => 30, from), from + 2 * hourMs)).toEqual({ degreeHours: 10, hoursAbove: 2, hoursKnown: 2 });
    const gap = startExposure(start);
    for (const hour of [1, 49]) addToExposure(gap, start + hour * hourMs, 27, 1);
    expect(exposureAt(gap, start + 54 * hourMs)).toEqual({ degreeHours: 24, hoursAbove: 12, hoursKnown: 12 });
  });

  it('weighs readings alike, however they come together, and leaves out what comes for six hours already closed', () => {
    const one = startExposure(start);
    for (const value of [26, 26, 29]) addToExposure(one, start + hourMs, value, 1);
    const sums = startExposure(start);
    addToExposure(sums, start, 27 * 3, 3);
    expect(exposureAt(sums, start + 6 * hourMs)).toEqual(exposureAt(one, start + 6 * hourMs));
    addToExposure(one, start + 6 * hourMs, 20, 1);
    addToExposure(one, start + 2 * hourMs, 60, 1);
    expect(exposureAt(one, start + 12 * hourMs)).toEqual({ degreeHours: 12, hoursAbove: 6, hoursKnown: 12 });
  });

  it('is outside above 120 °C·h: not after five days at 26 °C, but six hours later', () => {
    const draft = warm(126, () => 26);
    expect(judgeExposure(limit, warm(120, () => 26), start + 120 * hourMs)).toBeNull();
    expect(judgeExposure(limit, draft, start + 125 * hourMs)).toBeNull();
    expect(judgeExposure(limit, draft, start + 126 * hourMs)).toMatchObject({
      side: null, value: 126, limitValue: 120,
      text: 'Brine was above 25 °C for 126 hours of this cure, by 1.0 °C on average: 126 degree-hours, more than 120.',
    });
    expect(judgeExposure({ ...limit, high: null }, draft, start + 126 * hourMs)).toBeNull();
  });

  it('tells what was not measured, and never says that anything is safe', () => {
    const draft = startExposure(start);
    for (const hour of [1, 49]) addToExposure(draft, start + hour * hourMs, 37, 1);
    const found = judgeExposure(limit, draft, start + 56 * hourMs);
    expect(found).toMatchObject({ value: 144 });
    expect(found?.text).toContain('42 hours of the cure were not measured and are not counted.');
    expect(found?.advice).toMatch(/do not taste.*no proof of harm or of safety: local rules decide/);
  });
});
