import fc from 'fast-check';
import { expect, test } from 'vitest';
import { degreeHours } from '#domain/cure/degree-hours.ts';
import { hoursUntilLimit } from '#domain/cure/drum-crossing.ts';
import { drumTemperature, drumWarming } from '#domain/cure/drum-warming.ts';
import { meanKineticTemperature } from '#domain/cure/mean-kinetic-temperature.ts';
import type { TemperatureSpan } from '#domain/cure/temperature-span.ts';
import { spansOfReadings, totalHours } from '#domain/cure/temperature-span.ts';
import { timeWeightedMeanC } from '#domain/cure/time-weighted.ts';
import { hourMs } from '#domain/units/time.ts';
import { valueOf } from '../helpers/value-of.ts';

const seeded = { seed: 20260421, numRuns: 300 };
const between = (min: number, max: number): fc.Arbitrary<number> => fc.double({ min, max, noNaN: true });
const part = fc.record({ hours: between(0.01, 500), at: between(-10, 45) }).map(({ hours, at }): TemperatureSpan => ({ hours, fromC: at, toC: at }));
const parts = fc.array(part, { minLength: 1, maxLength: 20 });
/** Temperatures as a probe tells them, in sixteenths: a rise of 1e-323 °C is no stretch to find a crossing in. */
const sixteenths = (min: number, max: number): fc.Arbitrary<number> => fc.integer({ min: min * 16, max: max * 16 }).map((count) => count / 16);
const span = fc.record({ hours: between(0.01, 500), fromC: sixteenths(-10, 45), toC: sixteenths(-10, 45) });
const spans = fc.array(span, { minLength: 1, maxLength: 20 });
const energy = between(15, 120);

const split = (whole: TemperatureSpan, share: number): TemperatureSpan[] => {
  const middleC = whole.fromC + (whole.toC - whole.fromC) * share;
  return [{ hours: whole.hours * share, fromC: whole.fromC, toC: middleC }, { hours: whole.hours * (1 - share), fromC: middleC, toC: whole.toC }];
};

test('the mean kinetic temperature is at least the mean and at most the highest', () => {
  fc.assert(fc.property(parts, energy, (history, ea) => {
    const { meanKineticC, meanC } = valueOf(meanKineticTemperature(history, ea));
    expect(meanKineticC).toBeGreaterThanOrEqual(meanC - 1e-9);
    expect(meanKineticC).toBeLessThanOrEqual(Math.max(...history.map((one) => one.toC)) + 1e-9);
  }), seeded);
});

test('it rises with the activation energy: the more a step minds heat, the more warm hours weigh', () => {
  fc.assert(fc.property(parts, between(15, 100), between(0, 20), (history, ea, more) => {
    expect(valueOf(meanKineticTemperature(history, ea + more)).meanKineticC).toBeGreaterThanOrEqual(valueOf(meanKineticTemperature(history, ea)).meanKineticC - 1e-9);
  }), seeded);
});

test('order, doubled weights and where a part is split do not matter', () => {
  fc.assert(fc.property(parts, energy, between(0.01, 0.99), (history, ea, share) => {
    const { meanKineticC } = valueOf(meanKineticTemperature(history, ea));
    expect(valueOf(meanKineticTemperature(history.toReversed(), ea)).meanKineticC).toBeCloseTo(meanKineticC, 8);
    expect(valueOf(meanKineticTemperature(history.map((one) => ({ ...one, hours: 2 * one.hours })), ea)).meanKineticC).toBeCloseTo(meanKineticC, 8);
    expect(valueOf(meanKineticTemperature(history.flatMap((one) => split(one, share)), ea)).meanKineticC).toBeCloseTo(meanKineticC, 8);
  }), seeded);
});

test('degree-hours do not depend on where a straight stretch is read, and add up', () => {
  fc.assert(fc.property(spans, sixteenths(-5, 40), between(0.01, 0.99), (history, base, share) => {
    const whole = valueOf(degreeHours(history, base));
    const cut = valueOf(degreeHours(history.flatMap((one) => split(one, share)), base));
    expect(Math.abs(cut.degreeHours - whole.degreeHours)).toBeLessThan(1e-6);
    expect(Math.abs(cut.hoursAbove - whole.hoursAbove)).toBeLessThan(1e-6);
    const sum = history.reduce((total, one) => total + valueOf(degreeHours([one], base)).degreeHours, 0);
    expect(Math.abs(sum - whole.degreeHours)).toBeLessThan(1e-6);
  }), seeded);
});

test('degree-hours are never negative, fall with the base, and stay below hours above times the height', () => {
  fc.assert(fc.property(spans, between(-5, 40), between(0, 5), (history, base, higher) => {
    const { degreeHours: sum, hoursAbove, highestC } = valueOf(degreeHours(history, base));
    expect(sum).toBeGreaterThanOrEqual(0);
    expect(sum).toBeLessThanOrEqual(hoursAbove * Math.max(0, highestC - base) + 1e-9);
    expect(hoursAbove).toBeLessThanOrEqual(totalHours(history) + 1e-9);
    expect(valueOf(degreeHours(history, base + higher)).degreeHours).toBeLessThanOrEqual(sum + 1e-9);
  }), seeded);
});

test('uneven readings have the mean of their spans', () => {
  fc.assert(fc.property(fc.array(fc.tuple(between(0.01, 5), between(-10, 45)), { minLength: 2, maxLength: 40 }), (steps) => {
    let t = 0;
    const readings = steps.map(([hours, temperatureC]) => ({ t: (t += hours * hourMs), temperatureC }));
    expect(timeWeightedMeanC(readings)).toBeCloseTo(valueOf(meanKineticTemperature(spansOfReadings(readings).spans, 45)).meanC, 8);
  }), seeded);
});

test('a drum goes the same way whether its air is taken in one stretch or two', () => {
  fc.assert(fc.property(between(-5, 40), span, between(1, 60), between(0.01, 0.99), (startC, air, tau, share) => {
    const slope = (air.toC - air.fromC) / air.hours;
    const [first, second] = split(air, share) as [TemperatureSpan, TemperatureSpan];
    const halfway = drumTemperature(startC, first.fromC, slope, first.hours, tau);
    expect(Math.abs(drumTemperature(halfway, second.fromC, slope, second.hours, tau) - drumTemperature(startC, air.fromC, slope, air.hours, tau))).toBeLessThan(1e-6);
  }), seeded);
});

test('a drum stays between its own start and the air it has met', () => {
  fc.assert(fc.property(between(-5, 40), fc.array(fc.record({ hours: between(0.1, 48), fromC: between(-10, 45), toC: between(-10, 45) }), { minLength: 1, maxLength: 8 }), between(1, 60), (startC, air, timeConstantHours) => {
    const all = [startC, ...air.flatMap((one) => [one.fromC, one.toC])];
    for (const { temperatureC } of valueOf(drumWarming({ startC, timeConstantHours, air, hours: 100 })).curve) {
      expect(temperatureC).toBeGreaterThanOrEqual(Math.min(...all) - 1e-6);
      expect(temperatureC).toBeLessThanOrEqual(Math.max(...all) + 1e-6);
    }
  }), seeded);
});

test('the moment a limit is crossed is the first on the curve, and before it nothing was past', () => {
  fc.assert(fc.property(between(5, 30), fc.array(fc.record({ hours: between(1, 24), fromC: between(0, 40), toC: between(0, 40) }), { minLength: 1, maxLength: 5 }), between(2, 40), between(5, 35), (startC, air, timeConstantHours, limitC) => {
    const warming = { startC, timeConstantHours, air, hours: 72 };
    const at = hoursUntilLimit(warming, limitC, 'above');
    const { curve } = valueOf(drumWarming(warming, 0.05));
    const first = curve.find((point) => point.temperatureC > limitC + 1e-9);
    const crossed = at ?? Infinity;
    expect(curve.filter((point) => point.hours < crossed - 1 / 60).every((point) => point.temperatureC <= limitC + 1e-9)).toBe(true);
    expect(crossed).toBeLessThanOrEqual((first?.hours ?? Infinity) + 1 / 60);
  }), { ...seeded, numRuns: 150 });
});
