import { describe, expect, test } from 'vitest';
import type { Cut, Maturity } from '#domain/cure/batch.ts';
import { leachingCurve, leachingTemperatureRange } from '#domain/cure/leaching-curve.ts';
import { endPointFlesh, leachingRates, startingFlesh } from '#domain/cure/leaching-defaults.ts';
import { courseAt } from '#domain/cure/leaching-course.ts';
import { dayMs } from '#domain/units/time.ts';
import { daysTo, every, steadyCourse, threeThenWeekly } from '../helpers/cures.ts';
import { valueOf } from '../helpers/value-of.ts';

/** Fruit between green and turning at 15 °C, brine changed every second day in the first week (three times), then weekly. */
const betweenGreenAndTurning = (startingFlesh.green + startingFlesh.turning) / 2;
const sweetAfter = (cut: Cut, ratio: number, flesh = betweenGreenAndTurning): number =>
  daysTo(steadyCourse({ cut, temperatureC: 15, changeDays: threeThenWeekly, ratio, startingFlesh: flesh }), endPointFlesh.sweet);

describe('common practice, no source', () => {
  // Just enough brine to fill a drum of fruit is 1.3 L per litre of flesh water; a generous bucket has 1.9.
  test.each([1.3, 1.5, 1.9])('pitted fruit is sweet in two to three weeks (ratio %f)', (ratio) => {
    expect(sweetAfter('pitted', ratio)).toBeGreaterThanOrEqual(14);
    expect(sweetAfter('pitted', ratio)).toBeLessThanOrEqual(21);
  });

  test.each([1.3, 1.5, 1.9])('slit fruit is sweet in five to seven weeks (ratio %f)', (ratio) => {
    expect(sweetAfter('slit', ratio)).toBeGreaterThanOrEqual(35);
    expect(sweetAfter('slit', ratio)).toBeLessThanOrEqual(49);
  });

  test('all-turning pitted fruit is ready a few hours before two weeks are over: the model is a little fast there', () => {
    expect(sweetAfter('pitted', 1.5, startingFlesh.turning)).toBeCloseTo(13.9, 1);
  });

  test('would notice: the rate of another cut, a kept brine, a warmer shed', () => {
    expect(sweetAfter('cracked', 1.5)).toBeGreaterThan(sweetAfter('pitted', 1.5));
    expect(sweetAfter('whole', 1.5)).toBeGreaterThan(49);
    expect(daysTo(steadyCourse({ cut: 'pitted', temperatureC: 15, changeDays: [], ratio: 1.5, startingFlesh: betweenGreenAndTurning }), 0.1)).toBeGreaterThan(21);
    expect(daysTo(steadyCourse({ cut: 'slit', temperatureC: 25, changeDays: threeThenWeekly, ratio: 1.5, startingFlesh: betweenGreenAndTurning }), 0.1)).toBeLessThan(35);
  });
});

/**
 * Published end points, none with a measured curve. Two of them (the kept black fruit at 25 °C and the kept green fruit) were in view when
 * the starting guesses were chosen, so they prove nothing; the verdict of each is what the model makes of it, also where it fails.
 */
const anchors: readonly {
  readonly source: string; readonly cut: Cut; readonly maturity: Maturity; readonly temperatureC: number; readonly changeDays: readonly number[];
  readonly day: number; readonly flesh: number; readonly verdict: 'agrees' | 'model faster' | 'not reproduced';
}[] = [
  { source: 'Tassou 2002, kept brine, 25 °C: ready after five months', cut: 'whole', maturity: 'black', temperatureC: 25, changeDays: [], day: 150, flesh: 0.052, verdict: 'agrees' },
  { source: 'Tassou 2002, kept brine, 18 °C: not said to be ready', cut: 'whole', maturity: 'black', temperatureC: 18, changeDays: [], day: 150, flesh: 0.094, verdict: 'agrees' },
  { source: 'University of California leaflet, kept: somewhat bitter after 4 months', cut: 'whole', maturity: 'green', temperatureC: 21, changeDays: [], day: 120, flesh: 0.22, verdict: 'agrees' },
  { source: 'the same after 6 months', cut: 'whole', maturity: 'green', temperatureC: 21, changeDays: [], day: 180, flesh: 0.16, verdict: 'agrees' },
  { source: 'trade advice, cracked in daily water: about a week', cut: 'cracked', maturity: 'green', temperatureC: 20, changeDays: every(1), day: 7, flesh: 0.26, verdict: 'agrees' },
  { source: 'trade advice, slit in weekly brine: 8 weeks', cut: 'slit', maturity: 'green', temperatureC: 18, changeDays: every(7), day: 56, flesh: 0.03, verdict: 'model faster' },
  { source: 'home grower, slit black in water changed two or three times a day: 2 weeks', cut: 'slit', maturity: 'black', temperatureC: 12, changeDays: every(0.4), day: 14, flesh: 0.19, verdict: 'agrees' },
  { source: 'the same, stopped at 3 weeks', cut: 'slit', maturity: 'black', temperatureC: 12, changeDays: every(0.4), day: 21, flesh: 0.14, verdict: 'agrees' },
  { source: 'Kumral & Sahin 2004, whole black Gemlik at 10 to 12 °C: 63 days', cut: 'whole', maturity: 'black', temperatureC: 11, changeDays: [], day: 63, flesh: 0.21, verdict: 'not reproduced' },
];

test.each(anchors)('$source: $verdict (flesh $flesh)', ({ cut, maturity, temperatureC, changeDays, day, flesh }) => {
  const [state] = courseAt(steadyCourse({ cut, temperatureC, changeDays, ratio: 1.5, startingFlesh: startingFlesh[maturity] }), [day * dayMs]);
  expect(state?.flesh).toBeGreaterThan(flesh - 0.012);
  expect(state?.flesh).toBeLessThan(flesh + 0.012);
});

test('verdicts that are not agreement follow from the end point: sweet long before, or not sweet when people ate it', () => {
  const fleshOf = (verdict: string): number[] => anchors.filter((anchor) => anchor.verdict === verdict).map((anchor) => anchor.flesh);
  expect(fleshOf('model faster').every((flesh) => flesh < endPointFlesh.sweet / 2)).toBe(true);
  expect(fleshOf('not reproduced').every((flesh) => flesh > endPointFlesh.sweet)).toBe(true);
});

test('rates by cut stand in the order of how open the fruit is, each inside its own range', () => {
  expect(leachingRates.whole.perDay < leachingRates.slit.perDay && leachingRates.slit.perDay < leachingRates.cracked.perDay && leachingRates.cracked.perDay < leachingRates.pitted.perDay).toBe(true);
  for (const { low, perDay, high } of Object.values(leachingRates)) expect(low < perDay && perDay < high).toBe(true);
});

describe('a planned cure', () => {
  const plan = { cut: 'cracked', maturity: 'green', fruitKg: 10, brineL: 8.0925, temperatures: [{ hours: 24, fromC: 20, toC: 20 }], changes: every(1, 30).map((day) => ({ day })), days: 20.5 } as const;

  test('gives a point a day, the ratio and both end points', () => {
    const { ratio, curve, dayPleasant, daySweet } = valueOf(leachingCurve(plan));
    expect(ratio).toBeCloseTo(1.5, 12);
    expect(curve.map((point) => point.day)).toEqual([...Array.from({ length: 21 }, (_, day) => day), 20.5]);
    expect(curve[0]).toEqual({ day: 0, flesh: 1, brine: 0 });
    const course = steadyCourse({ cut: 'cracked', temperatureC: 20, changeDays: every(1), ratio: 1.5, startingFlesh: 1 });
    expect(dayPleasant).toBeCloseTo(daysTo(course, 0.25), 3);
    expect(daySweet).toBeCloseTo(daysTo(course, 0.1), 3);
  });

  test('an end point that is not reached in time is null, not a number', () => {
    expect(valueOf(leachingCurve({ ...plan, days: 10 })).daySweet).toBeNull();
  });

  test('steps of temperature stay steps, and a warm day counts as in one part', () => {
    const stepped = valueOf(leachingCurve({ ...plan, temperatures: [{ hours: 72, fromC: 10, toC: 10 }, { hours: 24, fromC: 25, toC: 25 }, { hours: 24, fromC: 25, toC: 25 }, { hours: 1, fromC: 15, toC: 15 }] }));
    const whole = valueOf(leachingCurve({ ...plan, temperatures: [{ hours: 72, fromC: 10, toC: 10 }, { hours: 48, fromC: 25, toC: 25 }, { hours: 400, fromC: 15, toC: 15 }] }));
    for (const [i, point] of stepped.curve.entries()) expect(point.flesh).toBeCloseTo(whole.curve[i]?.flesh as number, 10);
  });

  test.each([
    ['days', { days: -1 }], ['days', { days: Number.NaN }], ['parts', { temperatures: [] }], ['parts.0.temperatureC', { temperatures: [{ hours: 1, fromC: 20, toC: leachingTemperatureRange.high + 1 }] }],
    ['changes.0.fraction', { changes: [{ day: 1, fraction: 1.5 }] }], ['changes.0.day', { changes: [{ day: -1 }] }], ['fruitKg', { fruitKg: 0 }], ['brineL', { brineL: Number.NaN }],
  ])('refused by the name of the field: %s', (field, over) => {
    expect(leachingCurve({ ...plan, ...over })).toMatchObject({ ok: false, error: { code: 'outside-valid-range', field } });
  });
});
