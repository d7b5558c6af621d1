import { describe, expect, test } from 'vitest';
import type { ForecastInput, Readiness } from '#domain/cure/forecast.ts';
import { forecastReadiness } from '#domain/cure/forecast.ts';
import { growerGuess } from '#domain/cure/grower-guess.ts';
import { courseAt } from '#domain/cure/leaching-course.ts';
import { tastingScore } from '#domain/cure/tasting-score.ts';
import { dayMs, hourMs } from '#domain/units/time.ts';
import { daysTo, steadyCourse, threeThenWeekly } from '../helpers/cures.ts';

const start = Date.UTC(2026, 3, 20);
const changes = threeThenWeekly.map((day) => ({ at: start + day * dayMs, fraction: 1 }));

/** A slit green cure at a steady temperature, looked at on a day. */
const cureOn = (day: number, over: Partial<ForecastInput> = {}): ForecastInput => {
  const now = start + day * dayMs;
  return {
    batch: { cut: 'slit', maturity: 'green', startedAt: start, fruitKg: 10, brineL: 8.0925 },
    temperatures: Array.from({ length: day * 24 + 1 }, (_, hour) => ({ t: start + hour * hourMs, temperatureC: 18 })),
    changes: changes.filter((change) => change.at <= now),
    plannedChanges: changes.filter((change) => change.at > now),
    tastings: [],
    now,
    ...over,
  };
};

const known = (input: ForecastInput): Readiness => {
  const forecast = forecastReadiness(input);
  if ('unknown' in forecast) throw new Error(forecast.unknown);
  return forecast;
};
const dayOf = (at: number): number => (at - start) / dayMs;
/** Of the logarithm of the days: a factor is what the interval is made of. */
const widthOf = ({ readyFrom, readyTo }: Readiness): number => Math.log(dayOf(readyTo) / dayOf(readyFrom));

/** What a taster who tastes as the model does would score, were the real rate another one. */
const tastingsAt = (rate: number, days: readonly number[]) => {
  const course = { ...steadyCourse({ cut: 'slit', temperatureC: 18, changeDays: threeThenWeekly, ratio: 1.5, startingFlesh: 1 }), leachingPerDay: rate };
  const states = courseAt(course, days.map((day) => day * dayMs));
  return days.map((day, i) => ({ at: start + day * dayMs, bitterness: tastingScore(states[i]?.flesh ?? Number.NaN) }));
};

describe('readiness forecast', () => {
  test('without tastings it is the starting guess, at least ×/÷ 2 wide, and says so', () => {
    const forecast = known(cureOn(10));
    const expected = daysTo(steadyCourse({ cut: 'slit', temperatureC: 18, changeDays: threeThenWeekly, ratio: 1.5, startingFlesh: 1 }), 0.1);
    expect(forecast.ratio).toBeCloseTo(1.5, 10);
    expect(dayOf(forecast.readyLikely)).toBeCloseTo(expected, 2);
    expect(dayOf(forecast.readyLikely) / dayOf(forecast.readyFrom)).toBeGreaterThanOrEqual(1.999);
    expect(dayOf(forecast.readyTo) / dayOf(forecast.readyLikely)).toBeGreaterThanOrEqual(1.999);
    expect(forecast).toMatchObject({ tastings: 0, priorShare: 1, kLPerDay: 0.08 });
    expect(forecast.basis).toMatch(/starting guess/);
  });

  test.each([1, 2])('%i tastings cannot outweigh the starting guess, and are told so', (count) => {
    const few = known(cureOn(28, { tastings: tastingsAt(0.02, [14, 28].slice(0, count)) }));
    expect(few.basis).toMatch(/^mostly the starting guess for slit fruit: \d tastings? of this batch, too few to outweigh it/);
    expect(few.priorShare).toBeGreaterThan(0.49);
    // Nearer to the guess of 0.08 than to what the tastings say by themselves, on the scale of factors; a third one turns that.
    expect(few.kLPerDay).toBeGreaterThan(Math.sqrt(0.02 * 0.08));
    expect(known(cureOn(28, { tastings: tastingsAt(0.02, [14, 21, 28]) })).kLPerDay).toBeLessThan(Math.sqrt(0.02 * 0.08));
  });

  test('tastings pull the rate to the one that made them, narrow the interval and shrink the guess', () => {
    const days = [7, 14, 21, 28, 35];
    const guess = known(cureOn(35));
    const fitted = known(cureOn(35, { tastings: tastingsAt(0.05, days) }));
    // The guess of 0.08 keeps a few per cent of pull on the true 0.05.
    expect(fitted.kLPerDay).toBeGreaterThan(0.05);
    expect(fitted.kLPerDay).toBeLessThan(0.053);
    expect(fitted.priorShare).toBeLessThan(0.1);
    expect(widthOf(fitted)).toBeLessThan(0.5 * widthOf(guess));
    expect(fitted.basis).toMatch(/fitted to 5 tastings/);
    const truth = daysTo({ ...steadyCourse({ cut: 'slit', temperatureC: 18, changeDays: threeThenWeekly, ratio: 1.5, startingFlesh: 1 }), leachingPerDay: 0.05 }, 0.1);
    expect(dayOf(fitted.readyFrom)).toBeLessThan(truth);
    expect(dayOf(fitted.readyTo)).toBeGreaterThan(truth);
    expect(Math.abs(dayOf(fitted.readyLikely) - truth)).toBeLessThan(2.5);
  });

  test('scores held at the ends of the scale do not upset the fit', () => {
    const bitter = known(cureOn(35, { tastings: [7, 14, 21, 35].map((day) => ({ at: start + day * dayMs, bitterness: 10 })) }));
    const sweet = known(cureOn(35, { tastings: [7, 14, 21, 35].map((day) => ({ at: start + day * dayMs, bitterness: 0 })) }));
    expect(bitter.kLPerDay).toBeLessThan(0.04);
    expect(sweet.kLPerDay).toBeGreaterThan(0.16);
  });

  test('earlier cures of the grower make a better guess, wider than their own fit because lots differ', () => {
    const earlier = [0, 1, 2].map(() => ({
      course: steadyCourse({ cut: 'slit', temperatureC: 18, changeDays: threeThenWeekly, ratio: 1.5, startingFlesh: 1 }),
      tastings: tastingsAt(0.05, [7, 14, 21, 28, 35]).map((tasting) => ({ ...tasting, at: tasting.at - start })),
    }));
    const guess = growerGuess('slit', earlier);
    expect(guess).toMatchObject({ cures: 3, tastings: 15 });
    expect(Math.abs(guess.perDay / 0.05 - 1)).toBeLessThan(0.03);
    expect(guess.sd).toBeGreaterThanOrEqual(0.45 * Math.sqrt(4 / 3));
    expect(guess.sd).toBeLessThan(0.55);
    const general = known(cureOn(10));
    const own = known(cureOn(10, { guess }));
    expect(own.basis).toBe('starting guess from 3 earlier cures of slit fruit, no tastings yet');
    expect(widthOf(own)).toBeLessThan(0.9 * widthOf(general));
    expect(growerGuess('slit', [])).toEqual({ perDay: 0.08, sd: 0.7, cures: 0, tastings: 0 });
  });

  test('readings far apart, or a gap, change little at a steady temperature, and the gap is told', () => {
    const all = cureOn(20);
    const sparse = { ...all, temperatures: all.temperatures.filter((_reading, i) => i % 31 === 0 && !(i > 100 && i < 300)) };
    expect(known(sparse).readyLikely).toBeCloseTo(known(all).readyLikely, -5);
    expect(known(sparse).longestGapHours).toBe(217);
    expect(known(all).longestGapHours).toBe(1);
  });

  test('the future takes the mean of the last seven days, or what it is told', () => {
    const input = cureOn(20);
    const warmer = { ...input, temperatures: input.temperatures.map((reading) => ({ ...reading, temperatureC: dayOf(reading.t) > 12.5 ? 24 : 16 })) };
    expect(known(warmer).futureTemperatureC).toBeCloseTo(24, 10);
    expect(known({ ...warmer, assumedFutureTemperatureC: 12 }).readyLikely).toBeGreaterThan(known(warmer).readyLikely);
  });

  test('pleasant comes before sweet, black before green, and a change not planned costs days', () => {
    const sweet = known(cureOn(20));
    expect(known(cureOn(20, { endPoint: 'pleasant' })).readyLikely).toBeLessThan(sweet.readyLikely);
    expect(known(cureOn(20, { batch: { ...cureOn(20).batch, maturity: 'black' } })).readyLikely).toBeLessThan(sweet.readyLikely);
    expect(known(cureOn(20, { plannedChanges: [] })).readyLikely).toBeGreaterThan(sweet.readyLikely);
  });

  test('an overdue change is taken as made now', () => {
    const input = cureOn(21);
    const forgotten = known({ ...input, changes: input.changes.slice(0, -1), plannedChanges: [...changes.slice(4, 5), ...input.plannedChanges] });
    const made = known({ ...input, changes: [...input.changes.slice(0, -1), { at: input.now, fraction: 1 }] });
    expect(forgotten.readyLikely).toBe(made.readyLikely);
  });

  test('a brine that is kept may have no upper end, and says so', () => {
    const forecast = known(cureOn(20, { changes: [], plannedChanges: [], assumedFutureTemperatureC: 12 }));
    expect(forecast.openEnded).toBe(true);
  });

  test.each([
    ['no temperature readings', { temperatures: [] }],
    ['not started', { now: start - 1 }],
    ['fruitKg', { batch: { ...cureOn(1).batch, fruitKg: 0 } }],
    ['three years', { changes: [], plannedChanges: [], assumedFutureTemperatureC: 2 }],
    ['outside -10 to 60', { assumedFutureTemperatureC: 200 }],
  ] as const)('unknown, with a reason: %s', (reason, over) => {
    const forecast = forecastReadiness(cureOn(10, over));
    expect('unknown' in forecast && forecast.unknown).toContain(reason);
  });
});
