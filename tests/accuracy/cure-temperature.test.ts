import { describe, expect, test } from 'vitest';
import { arrheniusFactor, gasConstantKjPerMolK } from '#domain/cure/arrhenius.ts';
import { degreeHours } from '#domain/cure/degree-hours.ts';
import { meanKineticTemperature, pharmacopoeiaActivationEnergy } from '#domain/cure/mean-kinetic-temperature.ts';
import type { TemperaturePart } from '#domain/cure/temperature-span.ts';
import { spansOfParts, spansOfReadings, totalHours } from '#domain/cure/temperature-span.ts';
import { timeWeightedMeanC } from '#domain/cure/time-weighted.ts';
import { hourMs, minuteMs } from '#domain/units/time.ts';
import { checkAccuracy } from '../helpers/accuracy.ts';
import { hourlyNormals, hourlyNormalsSha256 } from '../helpers/hourly-normals.ts';
import { valueOf } from '../helpers/value-of.ts';

const equal = (...temperaturesC: readonly number[]): readonly TemperaturePart[] => temperaturesC.map((temperatureC) => ({ hours: 1, temperatureC }));
const kineticC = (parts: readonly TemperaturePart[], energy?: number): number => valueOf(meanKineticTemperature(valueOf(spansOfParts(parts)), energy)).meanKineticC;
const plainMean = (parts: readonly TemperaturePart[]): number => parts.reduce((sum, part) => sum + part.temperatureC, 0) / parts.length;
const weightedMean = (parts: readonly TemperaturePart[]): number =>
  parts.reduce((sum, part) => sum + part.hours * part.temperatureC, 0) / parts.reduce((sum, part) => sum + part.hours, 0);

const dayWithOneHotHour: readonly TemperaturePart[] = [{ hours: 23, temperatureC: 20 }, { hours: 1, temperatureC: 40 }];
checkAccuracy<readonly TemperaturePart[]>({
  quantity: 'mean kinetic temperature at ΔH/R = 10,000 K',
  unit: '°C',
  source: 'equation of USP <1160>',
  confidence: 'computed from cited inputs by the cited equation',
  tolerance: 0.0001,
  reason: 'values are stated to four decimals; 83.144 kJ/mol over the gas constant of CODATA is 0.08 K short of 10,000 K',
  rows: [
    [equal(...Array<number>(12).fill(25)), 25],
    [equal(15, 35), 29.4686],
    [equal(20, 30), 26.2599],
    [dayWithOneHotHour, 22.4479],
  ],
  actual: (parts) => kineticC(parts),
  mistakes: {
    'no time weights': (parts) => kineticC(equal(...parts.map((part) => part.temperatureC))),
    'the arithmetic mean': weightedMean,
    'Celsius for kelvin': (parts) => 10_000 / -Math.log(parts.reduce((sum, part) => sum + part.hours * Math.exp(-10_000 / part.temperatureC), 0) / parts.reduce((sum, part) => sum + part.hours, 0)),
    'another activation energy': (parts) => kineticC(parts, 45),
    'an energy five per cent too high': (parts) => kineticC(parts, pharmacopoeiaActivationEnergy * 1.05),
  },
});

checkAccuracy<readonly TemperaturePart[]>({
  quantity: 'mean kinetic temperature of 2, 2, 5, 8, 8, 8, 8 °C',
  unit: '°C',
  source: 'worked result in the read-me of a public SQL aggregate function for mean kinetic temperature',
  confidence: 'read in the cited source',
  tolerance: 0.005,
  reason: 'the result is stated to two decimals',
  rows: [[equal(2, 2, 5, 8, 8, 8, 8), 6.25]],
  actual: (parts) => kineticC(parts),
  mistakes: { 'the arithmetic mean': plainMean, 'a cure activation energy of 45 kJ/mol': (parts) => kineticC(parts, 45) },
});

checkAccuracy<readonly [parts: readonly TemperaturePart[], energy: number]>({
  quantity: 'mean kinetic temperature by activation energy',
  unit: '°C',
  source: 'equation of USP <1160>',
  confidence: 'computed from cited inputs by the cited equation',
  tolerance: 0.005,
  reason: 'values are stated to two decimals',
  rows: [
    [[equal(10, 20), 40], 15.63], [[equal(10, 20), 45], 15.72], [[equal(10, 20), 83.144], 16.34],
    [[equal(4, 4, 4, 4, 16), 45], 7.2],
  ],
  actual: ([parts, energy]) => kineticC(parts, energy),
  mistakes: { 'the default energy for all': ([parts]) => kineticC(parts), 'the arithmetic mean': ([parts]) => plainMean(parts) },
});

const sausageLog: readonly TemperaturePart[] = [
  { hours: 8, temperatureC: 24 }, { hours: 12, temperatureC: 22 }, { hours: 24, temperatureC: 18.5 }, { hours: 6, temperatureC: 15 }, { hours: 10, temperatureC: 20 },
];
const above = (parts: readonly TemperaturePart[], baseC: number) => valueOf(degreeHours(valueOf(spansOfParts(parts)), baseC));
checkAccuracy<readonly TemperaturePart[]>({
  quantity: 'degree-hours above 15.6 °C',
  unit: '°C·h',
  source: 'Canadian rules for fermented sausage (25 °C for 70.7 h is the limit of 665), and a log summed by them',
  confidence: 'read in a second copy of the source',
  tolerance: 0.5,
  reason: 'the hours of the worked example are stated to 0.1 h, that is 0.5 °C·h',
  rows: [[[{ hours: 70.7, temperatureC: 25 }], 665], [sausageLog, 257.6]],
  actual: (parts) => above(parts, 15.6).degreeHours,
  mistakes: {
    'time below the base taken off': (parts) => parts.reduce((sum, part) => sum + part.hours * (part.temperatureC - 15.6), 0),
    'no base': (parts) => above(parts, 0).degreeHours,
  },
});

checkAccuracy<readonly [degF: number, hours: number]>({
  quantity: 'degree-hours above 60 °F of the table of hours allowed at a steady chamber temperature',
  unit: '°F·h',
  source: 'University of Wisconsin fermentation log, 23 November 2012',
  confidence: 'read in the cited source',
  tolerance: 1e-6,
  reason: 'whole hours times whole degrees; only rounding of the conversion remains',
  rows: [[[75, 80], 1200], [[80, 60], 1200], [[85, 48], 1200], [[90, 33], 990], [[95, 28], 980], [[100, 25], 1000], [[105, 20], 900], [[110, 18], 900]],
  actual: ([degF, hours]) => above([{ hours, temperatureC: ((degF - 32) * 5) / 9 }], ((60 - 32) * 5) / 9).degreeHours * 1.8,
  mistakes: {
    '15.6 °C taken for 60 °F': ([degF, hours]) => above([{ hours, temperatureC: ((degF - 32) * 5) / 9 }], 15.6).degreeHours * 1.8,
    'degrees Celsius not turned back': ([degF, hours]) => above([{ hours, temperatureC: ((degF - 32) * 5) / 9 }], ((60 - 32) * 5) / 9).degreeHours,
  },
});

test('a log below the base all the time holds no degree-hours, and a straight rise counts from where it crosses', () => {
  expect(above([{ hours: 100, temperatureC: 10 }], 15.6)).toEqual({ degreeHours: 0, hoursAbove: 0, highestC: 10 });
  // From 10 to 20 °C in 10 h: above 15 °C for 5 h, 2.5 °C on average.
  expect(valueOf(degreeHours([{ hours: 10, fromC: 10, toC: 20 }], 15))).toEqual({ degreeHours: 12.5, hoursAbove: 5, highestC: 20 });
});

describe('a year of hourly normals', () => {
  const readings = hourlyNormals();
  const { spans } = spansOfReadings(readings);

  test('is the file this was written for', () => {
    expect(hourlyNormalsSha256()).toBe('3433511ab963755ec1a573420af962e713e66691c07c068f5a247e6891912311');
    expect(readings).toHaveLength(8_759);
    expect(plainMean(equal(...readings.map((reading) => reading.temperatureC)))).toBeCloseTo(11.1276, 4);
  });

  test.each([45, 83.144])('mean kinetic temperature at %f kJ/mol agrees with the plain equation', (energy) => {
    const kelvin = readings.map((reading) => reading.temperatureC + 273.15);
    const ends = [kelvin[0] as number, kelvin.at(-1) as number];
    const term = (t: number): number => Math.exp(-energy / (gasConstantKjPerMolK * t));
    // Trapezoid over equal hours: the two ends count half.
    const mean = (kelvin.reduce((sum, t) => sum + term(t), 0) - ends.reduce((sum, t) => sum + term(t) / 2, 0)) / (kelvin.length - 1);
    const plain = energy / gasConstantKjPerMolK / -Math.log(mean) - 273.15;
    expect(valueOf(meanKineticTemperature(spans, energy)).meanKineticC).toBeCloseTo(plain, 9);
  });

  test('readings thinned out unevenly give nearly the same, without weights they do not', () => {
    // Nights are read once in three hours, days every hour: the plain mean is then too warm.
    const hourOf = (t: number): number => new Date(t).getUTCHours();
    const thinned = readings.filter(({ t }) => hourOf(t) % 3 === 0 || (hourOf(t) >= 11 && hourOf(t) <= 19));
    const all = valueOf(meanKineticTemperature(spans, 45));
    const few = valueOf(meanKineticTemperature(spansOfReadings(thinned).spans, 45));
    expect(Math.abs(few.meanKineticC - all.meanKineticC)).toBeLessThan(0.1);
    expect(Math.abs(few.meanC - all.meanC)).toBeLessThan(0.1);
    expect(Math.abs(kineticC(equal(...thinned.map((reading) => reading.temperatureC)), 45) - all.meanKineticC)).toBeGreaterThan(0.4);
  });

  test('a lost month weighs nothing and its hours are told', () => {
    const lost = readings.filter((reading) => new Date(reading.t).getUTCMonth() !== 6);
    const { spans: kept, gapHours } = spansOfReadings(lost);
    expect(gapHours).toBe(31 * 24 + 1);
    expect(totalHours(kept)).toBe(8_758 - gapHours);
    const bridged = valueOf(meanKineticTemperature(spansOfReadings(lost, Infinity).spans, 45)).meanC;
    expect(bridged).toBeCloseTo(timeWeightedMeanC(lost), 10);
    expect(valueOf(meanKineticTemperature(kept, 45)).meanC).toBeLessThan(bridged - 0.3);
  });

  test('degree-hours agree with a sum minute by minute', () => {
    const { degreeHours: sum, hoursAbove, highestC } = valueOf(degreeHours(spans, 15.6));
    let minutes = 0;
    let degreeMinutes = 0;
    for (const [i, span] of spans.entries()) {
      expect(readings[i + 1]?.t).toBe((readings[i] as { t: number }).t + hourMs);
      for (let minute = 0.5; minute < hourMs / minuteMs; minute++) {
        const over = span.fromC + ((span.toC - span.fromC) * minute) / 60 - 15.6;
        if (over > 0) [minutes, degreeMinutes] = [minutes + 1, degreeMinutes + over];
      }
    }
    expect(highestC).toBe(24.4);
    expect(Math.abs(hoursAbove - minutes / 60)).toBeLessThan(2);
    expect(Math.abs(sum / (degreeMinutes / 60) - 1)).toBeLessThan(1e-4);
  });
});

test.each([
  ['parts.0.temperatureC', [{ hours: 1, temperatureC: Number.NaN }]], ['parts.1.hours', [{ hours: 1, temperatureC: 5 }, { hours: -1, temperatureC: 5 }]],
  ['parts.0.temperatureC', [{ hours: 1, temperatureC: 1e6 }]], ['parts', []], ['parts', [{ hours: 0, temperatureC: 5 }]],
])('parts are refused by the name of their field: %s', (field, parts) => {
  expect(spansOfParts(parts)).toMatchObject({ ok: false, error: { code: 'outside-valid-range', field } });
});

test.each([0, -45, 1_000, Number.NaN])('an activation energy of %f kJ/mol is refused', (energy) => {
  expect(meanKineticTemperature([{ hours: 1, fromC: 5, toC: 5 }], energy)).toMatchObject({ ok: false, error: { field: 'activationEnergyKjPerMol' } });
});

test('an Arrhenius factor of the mean kinetic temperature is the mean of the factors', () => {
  const mean = dayWithOneHotHour.reduce((sum, part) => sum + part.hours * arrheniusFactor(part.temperatureC, 45), 0) / 24;
  expect(arrheniusFactor(kineticC(dayWithOneHotHour, 45), 45)).toBeCloseTo(mean, 12);
});
