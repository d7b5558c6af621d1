import { describe, expect, it } from 'vitest';
import { judgeCalibration } from '#domain/rules/calibration.ts';
import { defaultLimits } from '#domain/rules/default-limits.ts';
import type { Limit } from '#domain/rules/limit.ts';
import { judgeMilestone } from '#domain/rules/milestone.ts';
import { judgeRate } from '#domain/rules/rate.ts';
import { judgeRebound } from '#domain/rules/rebound.ts';
import { judgeStuck } from '#domain/rules/stuck.ts';
import { dayMs, hourMs, minuteMs } from '#domain/units/time.ts';

/** Rules that look now and then. Days, hours and rates are assumptions of this project; pH values by 21 CFR 114.3 (4.6) and CXS 66-1981 (4.3). */
const at = Date.UTC(2026, 9, 20, 12);
const limitOf = (id: string): Limit => {
  const limit = defaultLimits.find((each) => each.id === id);
  if (limit === undefined) throw new Error(`no limit ${id}`);
  return limit;
};
const trace = (hours: number, valueAt: (hoursAgo: number) => number) => Array.from({ length: hours * 6 + 1 }, (_each, index) => ({ t: at - (hours * 6 - index) * 10 * minuteMs - 5 * minuteMs, temperatureC: valueAt((hours * 6 - index) / 6) }));

describe('rate', () => {
  const limit = limitOf('temperature-rate');
  const warmed = trace(2, (ago) => 18 + 4 * Math.max(0, 1 - ago));

  it('is four degrees in the last hour, said with its direction; three are allowed', () => {
    expect(judgeRate(limit, warmed, [], at, false)).toMatchObject({ side: null, value: 4, limitValue: 3, text: 'Brine warmed by 4.0 °C in an hour, faster than a full drum can.' });
    expect(judgeRate(limit, trace(2, (ago) => 18 - 4 * Math.max(0, 1 - ago)), [], at, false)?.text).toContain('cooled by 4.0');
    expect(judgeRate(limit, trace(2, (ago) => 18 + 3 * Math.max(0, 1 - ago)), [], at, false)).toBeNull();
    // Four degrees in two hours are two an hour.
    expect(judgeRate(limit, trace(3, (ago) => 18 + 2 * Math.max(0, 2 - ago)), [], at, false)).toBeNull();
  });

  it('is over only below its deadband, and is not judged after a change of brine or over a gap', () => {
    const slower = trace(2, (ago) => 18 + 2.5 * Math.max(0, 1 - ago));
    expect([judgeRate(limit, slower, [], at, true) !== null, judgeRate(limit, slower, [], at, false) !== null]).toEqual([true, false]);
    expect(judgeRate(limit, warmed, [at - 2 * hourMs], at, false)).toBeNull();
    expect(judgeRate(limit, warmed, [at - 4 * hourMs], at, false)).not.toBeNull();
    expect(judgeRate(limit, warmed.slice(-3), [], at, false)).toBeNull();
  });
});

describe('stuck', () => {
  const limit = limitOf('temperature-stuck');
  const still = trace(13, () => 18.25);
  const air = trace(13, (ago) => 12 + ago / 2);

  it('is twelve hours of one value while another moved', () => {
    expect(judgeStuck(limit, still, () => [air], at)).toMatchObject({ value: 18.25, limitValue: 12 });
  });

  it('is not where all stand still, where it moved at all, where it has gaps, or where nobody else is there', () => {
    expect(judgeStuck(limit, still, () => [trace(13, () => 12), trace(13, (ago) => 12 + ago / 10)], at)).toBeNull();
    expect(judgeStuck(limit, trace(13, (ago) => (ago > 6 ? 18.25 : 18.3125)), () => [air], at)).toBeNull();
    expect(judgeStuck(limit, still.filter((_each, index) => index % 2 === 0), () => [air], at)).toBeNull();
    expect(judgeStuck(limit, still, () => [], at)).toBeNull();
    // What it did before these twelve hours does not count.
    expect(judgeStuck(limit, trace(30, (ago) => (ago > 13 ? 17 : 18.25)), () => [air], at)).not.toBeNull();
  });
});

describe('milestone', () => {
  const limit = limitOf('ph-day-14');
  const started = at - 15 * dayMs;

  it('is a pH above 4.6 on day 14, and over at 4.55; what was not measured is no finding', () => {
    expect(judgeMilestone(limit, [{ at, value: 4.8 }], started, at, false)).toMatchObject({ side: 'high', value: 4.8, limitValue: 4.6, text: 'pH 4.80 is not at or below 4.6 by day 14.' });
    expect(judgeMilestone(limit, [{ at, value: 4.6 }], started, at, false)).toBeNull();
    expect(judgeMilestone(limit, [{ at, value: 4.58 }], started, at, true)).not.toBeNull();
    expect(judgeMilestone(limit, [{ at, value: 4.55 }], started, at, true)).toBeNull();
    expect(judgeMilestone(limit, [], started, at, false)).toBeNull();
  });

  it('waits for its day to the moment, and the last value decides', () => {
    expect(judgeMilestone(limit, [{ at, value: 4.8 }], at - 14 * dayMs + 1, at, false)).toBeNull();
    expect(judgeMilestone(limit, [{ at, value: 4.8 }], at - 14 * dayMs, at, false)).not.toBeNull();
    expect(judgeMilestone(limit, [{ at: at - dayMs, value: 4.4 }, { at, value: 4.7 }], started, at, false)).not.toBeNull();
  });
});

describe('rebound', () => {
  const limit = limitOf('ferment-ph-rebound');
  const values = (...list: number[]) => list.map((value, index) => ({ at: at + index, value }));

  it('is a rise of 0.2 from the lowest, not from the last and not from the first', () => {
    expect(judgeRebound(limit, values(4.4, 4.1, 4.2, 4.3), false)).toMatchObject({ value: 4.3, text: 'pH has risen from 4.10 to 4.30.' });
    expect(judgeRebound(limit, values(4.4, 4.1, 4.2, 4.29), false)).toBeNull();
    expect(judgeRebound(limit, values(4.4, 4.1, 4.35, 4.12), false)).toBeNull();
    expect(judgeRebound(limit, [], false)).toBeNull();
  });

  it('is over below 0.15', () => {
    expect(judgeRebound(limit, values(4.1, 4.3, 4.26), true)).not.toBeNull();
    expect(judgeRebound(limit, values(4.1, 4.3, 4.24), true)).toBeNull();
  });
});

describe('calibration', () => {
  const limit = limitOf('ph-calibration');
  // Nernst at 25 °C: 59.16 mV per pH (2.303 RT/F, CODATA); a slope of 90 % is 53.24 mV.
  const check = (ageMs: number, percent: number) => ({ at: at - ageMs, temperatureC: 25, points: [{ ph: 7, mv: 0 }, { ph: 4, mv: 3 * 59.16 * (percent / 100) }] });

  it('is due after seven days, by the last one', () => {
    expect(judgeCalibration(limit, 'ph-1', [check(7 * dayMs, 98)], at)).toBeNull();
    expect(judgeCalibration(limit, 'ph-1', [check(30 * dayMs, 98), check(8 * dayMs, 98)], at)?.text).toBe('The pH electrode of ph-1 was calibrated 8 days ago.');
    expect(judgeCalibration(limit, 'ph-1', [check(30 * dayMs, 98), check(dayMs, 98)], at)).toBeNull();
    expect(judgeCalibration(limit, 'ph-1', [], at)).toBeNull();
  });

  it('is bad with a slope outside 92 to 102 %', () => {
    expect(judgeCalibration(limit, 'ph-1', [check(0, 90)], at)).toMatchObject({ limitValue: 92, text: 'The pH electrode of ph-1 has a slope of 90 %, outside 92 to 102 %.' });
    expect(judgeCalibration(limit, 'ph-1', [check(0, 93)], at)).toBeNull();
    expect(judgeCalibration(limit, 'ph-1', [check(0, 104)], at)?.limitValue).toBe(102);
  });
});
