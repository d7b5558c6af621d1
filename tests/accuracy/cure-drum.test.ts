import { describe, expect, test } from 'vitest';
import { hoursUntilLimit } from '#domain/cure/drum-crossing.ts';
import { fitDrum } from '#domain/cure/drum-fit.ts';
import { estimateTimeConstantHours } from '#domain/cure/drum-time-constant.ts';
import type { DrumWarming } from '#domain/cure/drum-warming.ts';
import { drumTemperature, drumWarming, timeConstantRange } from '#domain/cure/drum-warming.ts';
import type { TemperatureReading } from '#domain/cure/temperature-dose.ts';
import type { TemperatureSpan } from '#domain/cure/temperature-span.ts';
import { spansOfReadings } from '#domain/cure/temperature-span.ts';
import { hourMs } from '#domain/units/time.ts';
import { checkAccuracy } from '../helpers/accuracy.ts';
import { hourlyNormals } from '../helpers/hourly-normals.ts';
import { valueOf } from '../helpers/value-of.ts';

interface Cooling { readonly startC: number; readonly roomC: number; readonly knownAt: number; readonly knownC: number; readonly at: number }
const tauOf = ({ startC, roomC, knownAt, knownC }: Cooling): number => knownAt / Math.log((startC - roomC) / (knownC - roomC));
checkAccuracy<Cooling>({
  quantity: 'cooling of a cup in a steady room (times in minutes, any unit of time will do)',
  unit: '°C',
  source: "Newton's law of cooling, two published school problems (100 to 80 °C in 5 min; 95 to 61 °C in 30 min; room 20 °C)",
  confidence: 'computed from cited inputs by the cited equation',
  tolerance: 0.01,
  reason: 'the second problem states its temperature to the whole degree, worked backwards exactly',
  rows: [[{ startC: 100, roomC: 20, knownAt: 5, knownC: 80, at: 10 }, 65], [{ startC: 95, roomC: 20, knownAt: 30, knownC: 61, at: 30 }, 61]],
  actual: (cup) => drumTemperature(cup.startC, cup.roomC, 0, cup.at, tauOf(cup)),
  mistakes: {
    'a straight line': (cup) => cup.startC + ((cup.knownC - cup.startC) * cup.at) / cup.knownAt,
    'rate for time constant': (cup) => drumTemperature(cup.startC, cup.roomC, 0, cup.at, 1 / tauOf(cup)),
    'room left out': (cup) => cup.startC * Math.exp(-cup.at / tauOf(cup)),
  },
});

checkAccuracy<Cooling>({
  quantity: 'cooling rate of a cup from 95 to 61 °C in 30 min',
  unit: '1/min',
  source: "Newton's law of cooling, a published school problem (stated 0.02; exactly ln(75/41)/30)",
  confidence: 'computed from cited inputs by the cited equation',
  tolerance: 5e-6,
  reason: 'stated to five decimals',
  rows: [[{ startC: 95, roomC: 20, knownAt: 30, knownC: 61, at: 0 }, 0.02013]],
  actual: (cup) => 1 / tauOf(cup),
  mistakes: { 'logarithm to base ten': (cup) => 1 / (tauOf(cup) * Math.LN10) },
});

checkAccuracy<readonly [volumeL: number, transfer: number]>({
  quantity: 'time constant of a drum by litres and heat transfer',
  unit: 'h',
  source: 'lumped heat balance of an upright cylinder 1.4 times as high as wide, worked out apart from this code',
  confidence: 'assumption',
  tolerance: 0.2,
  reason: 'stated to 0.1 h; the mix of fruit and brine behind the heat capacity differs by about 1 %',
  rows: [
    [[10, 5], 7.7], [[10, 8], 4.8], [[10, 12], 3.2], [[20, 5], 9.7], [[20, 8], 6.1], [[20, 12], 4], [[60, 5], 14], [[60, 8], 8.8], [[60, 12], 5.8],
    [[120, 5], 17.6], [[120, 8], 11], [[120, 12], 7.4], [[200, 5], 20.9], [[200, 8], 13.1], [[200, 12], 8.7],
  ],
  actual: ([volumeL, transfer]) => valueOf(estimateTimeConstantHours(volumeL, transfer)),
  mistakes: {
    'one time constant for every drum': () => 10,
    'in proportion to the litres': ([volumeL, transfer]) => (valueOf(estimateTimeConstantHours(60, transfer)) * volumeL) / 60,
  },
});

/** Air that swings ±1 °C about 0 once a day, straight between points every 6 minutes, long enough to settle. */
const dailySwing = (days: number): readonly TemperatureSpan[] =>
  Array.from({ length: days * 240 }, (_, i) => ({ hours: 0.1, fromC: Math.sin((i * Math.PI) / 120), toC: Math.sin(((i + 1) * Math.PI) / 120) }));
const settled = (timeConstantHours: number): { readonly gain: number; readonly lagHours: number } => {
  const { curve } = valueOf(drumWarming({ startC: 0, timeConstantHours, air: dailySwing(12), hours: 12 * 24 }, 0.1));
  const lastDay = curve.filter((point) => point.hours >= 11 * 24);
  const peak = lastDay.reduce((best, point) => (point.temperatureC > best.temperatureC ? point : best));
  return { gain: peak.temperatureC, lagHours: peak.hours - 11 * 24 - 6 };
};
const dayTurn = (2 * Math.PI) / 24;
checkAccuracy<readonly [tau: number, what: 'gain' | 'lagHours']>({
  quantity: 'how much of a daily swing reaches the drum, and how late',
  unit: 'h, or share',
  source: 'first-order response: gain 1/√(1+(ωτ)²), lag atan(ωτ)/ω',
  confidence: 'computed from cited inputs by the cited equation',
  tolerance: 0.1,
  reason: 'lags are stated to 0.1 h and the peak is looked for every 0.1 h',
  rows: [[[10, 'gain'], 0.36], [[10, 'lagHours'], 4.6], [[20, 'gain'], 0.19], [[20, 'lagHours'], 5.3]],
  actual: ([tau, what]) => settled(tau)[what],
  mistakes: {
    'no lag and no damping': ([, what]) => (what === 'gain' ? 1 : 0),
    'lag equal to the time constant': ([tau, what]) => (what === 'gain' ? 1 / Math.hypot(1, dayTurn * tau) : tau),
  },
});

describe('a drum in real hourly air', () => {
  const air = hourlyNormals().slice(4_300, 4_300 + 24 * 14);
  const { spans } = spansOfReadings(air);
  const warming: DrumWarming = { startC: 12, timeConstantHours: 11, air: spans, hours: 14 * 24 };

  test('the exact response agrees with small Euler steps', () => {
    let temperatureC = 12;
    const steps = 2_000;
    for (const span of spans) for (let i = 0; i < steps; i++) temperatureC += ((span.fromC + ((span.toC - span.fromC) * (i + 0.5)) / steps - temperatureC) / 11) * (span.hours / steps);
    expect(valueOf(drumWarming({ ...warming, hours: spans.length })).temperatureC).toBeCloseTo(temperatureC, 3);
  });

  /** A measured trace: the exact drum, read to 1/16 °C with a repeatable noise of about ±0.1 °C, ten minutes apart. */
  const measured = (tau: number, offsetC: number): TemperatureReading[] => {
    const { curve } = valueOf(drumWarming({ ...warming, timeConstantHours: tau, air: spans.map((span) => ({ ...span, fromC: span.fromC + offsetC, toC: span.toC + offsetC })), hours: 5 * 24 }, 1 / 6));
    return curve.map(({ hours, temperatureC }, i) => ({ t: (air[0]?.t as number) + Math.round(hours * hourMs), temperatureC: Math.round((temperatureC + 0.1 * Math.sin(i * 12.9898)) * 16) / 16 }));
  };

  test.each([[4, 0], [11, 0], [11, -1.5], [25, 0.5]])('fits τ %f h and an offset of %f °C from noisy readings', (tau, offsetC) => {
    const fit = valueOf(fitDrum(measured(tau, offsetC), air));
    expect(Math.abs(fit.timeConstantHours / tau - 1)).toBeLessThan(0.05);
    expect(Math.abs(fit.offsetC - offsetC)).toBeLessThan(0.1);
    expect(fit.residualSdC).toBeLessThan(0.12);
  });

  test('changes over time regressed on the air, without an offset, would miss', () => {
    const drum = measured(11, -1.5);
    let [xy, xx] = [0, 0];
    for (let i = 1; i < drum.length - 1; i++) {
      const [a, b] = [drum[i] as TemperatureReading, drum[i + 1] as TemperatureReading];
      const hour = (a.t - (air[0]?.t as number)) / hourMs;
      const airC = (air[Math.floor(hour)] as TemperatureReading).temperatureC;
      xy += (airC - a.temperatureC) * ((b.temperatureC - a.temperatureC) * 6);
      xx += (airC - a.temperatureC) ** 2;
    }
    expect(Math.abs(xx / xy / 11 - 1)).toBeGreaterThan(0.05);
  });

  test('says why it cannot fit', () => {
    const steady = air.map((reading) => ({ ...reading, temperatureC: 15 }));
    expect(fitDrum(measured(11, 0).slice(0, 10), air)).toMatchObject({ ok: false, error: { code: 'too-few-readings' } });
    expect(fitDrum([], [])).toMatchObject({ ok: false, error: { code: 'too-few-readings' } });
    expect(fitDrum(steady, steady)).toMatchObject({ ok: false, error: { code: 'too-little-change' } });
    const unrelated = air.map((reading, i) => ({ ...reading, temperatureC: i % 2 === 0 ? 5 : 25 }));
    expect(fitDrum(unrelated, air)).toMatchObject({ ok: false });
  });
});

describe('crossing a limit', () => {
  const steadyAir = [{ hours: 1, fromC: 30, toC: 30 }];
  test('in steady air it is τ ln(ratio)', () => {
    const hours = hoursUntilLimit({ startC: 20, timeConstantHours: 10, air: steadyAir, hours: 48 }, 25, 'above');
    expect(Math.abs((hours ?? Number.NaN) - 10 * Math.LN2)).toBeLessThan(1 / 60);
  });
  test('a limit above the air is never crossed, one already crossed is at once', () => {
    expect(hoursUntilLimit({ startC: 20, timeConstantHours: 10, air: steadyAir, hours: 500 }, 30.5, 'above')).toBeNull();
    expect(hoursUntilLimit({ startC: 26, timeConstantHours: 10, air: steadyAir, hours: 5 }, 25, 'above')).toBe(0);
  });
  test('a peak inside one stretch of falling air is found, and so is the way down', () => {
    // Air falls from 40 to 10 °C in 24 h: the drum rises, meets it, and falls.
    const warming = { startC: 20, timeConstantHours: 10, air: [{ hours: 24, fromC: 40, toC: 10 }], hours: 24 };
    const { curve } = valueOf(drumWarming(warming, 0.01));
    const peak = Math.max(...curve.map((point) => point.temperatureC));
    expect(curve.at(-1)?.temperatureC).toBeLessThan(peak - 0.5);
    const up = hoursUntilLimit(warming, peak - 0.01, 'above');
    expect(up).toBeCloseTo(curve.find((point) => point.temperatureC > peak - 0.01)?.hours as number, 1);
    expect(hoursUntilLimit(warming, peak + 0.01, 'above')).toBeNull();
    expect(hoursUntilLimit({ ...warming, startC: 35 }, 30, 'below')).toBeGreaterThan(0);
  });
});

test.each([['timeConstantHours', { timeConstantHours: 0 }], ['timeConstantHours', { timeConstantHours: timeConstantRange.high + 1 }], ['startC', { startC: Number.NaN }], ['hours', { hours: -1 }], ['air', { air: [] }], ['hours', { hours: 150_000 }]])(
  'a warming is refused by the name of its field: %s', (field, over) => {
    const result = drumWarming({ startC: 20, timeConstantHours: 10, air: [{ hours: 1, fromC: 20, toC: 20 }], hours: 10, ...over });
    expect(result).toMatchObject({ ok: false, error: { code: 'outside-valid-range', field } });
  });

test('the curve has a point at every step and ends at the end, whatever the air is cut into', () => {
  const air = [{ hours: 1.5, fromC: 10, toC: 12 }, { hours: 0, fromC: 12, toC: 20 }, { hours: 1.5, fromC: 20, toC: 20 }];
  const { curve } = valueOf(drumWarming({ startC: 15, timeConstantHours: 5, air, hours: 5.25 }));
  expect(curve.map((point) => point.hours)).toEqual([0, 1, 2, 3, 4, 5, 5.25]);
  expect(valueOf(drumWarming({ startC: 15, timeConstantHours: 5, air, hours: 3 })).curve.map((point) => point.hours)).toEqual([0, 1, 2, 3]);
  expect(valueOf(drumWarming({ startC: 15, timeConstantHours: 5, air, hours: 0 }))).toEqual({ temperatureC: 15, curve: [{ hours: 0, temperatureC: 15 }] });
});
