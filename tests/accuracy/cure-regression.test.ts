import { linearRegression as libraryRegression, linearRegressionLine } from 'simple-statistics';
import { describe, expect, test } from 'vitest';
import type { CureStory } from '#domain/cure/compare-cures.ts';
import { compareCures } from '#domain/cure/compare-cures.ts';
import type { FinishedCure, FittedCures } from '#domain/cure/cure-regression.ts';
import { fitCures, predictCureDays } from '#domain/cure/cure-regression.ts';
import { checkAccuracy } from '../helpers/accuracy.ts';
import { valueOf } from '../helpers/value-of.ts';

/** Synthetic, made to lie near one Arrhenius line: no published cures with temperatures and days were found. */
const cures: readonly FinishedCure[] = [[12, 46], [14, 41], [16, 33], [18, 31], [21, 24], [24, 21]].map(([temperatureC = 0, days = 0]) => ({ temperatureC, days }));
const fitted = (data: readonly FinishedCure[]): FittedCures => {
  const fit = valueOf(fitCures(data));
  if (fit.method === 'too-few') throw new Error('too few cures for a test of the fit');
  return fit;
};
const fit = fitted(cures);

type Statistic = 'activationEnergyKjPerMol' | 'intercept' | 'residual' | 'standardError' | 'rSquared' | 'shrunkenKjPerMol' | 'low' | 'high';
const numberOf = (of: FittedCures, name: Statistic): number =>
  (name === 'low' || name === 'high' ? of.interval[name] : of[name]) ?? Number.NaN;
/** The line by another library, over any reading of the temperature. */
const lineOver = (kelvin: (celsius: number) => number): { readonly m: number; readonly b: number } =>
  libraryRegression(cures.map(({ temperatureC, days }) => [1 / (8.314462618e-3 * kelvin(temperatureC)), Math.log(days)]));
const source = 'six synthetic cures, worked out apart from this code';
checkAccuracy<Statistic>({
  quantity: 'Arrhenius regression of cure days',
  unit: 'of the value',
  source,
  confidence: 'computed from cited inputs by the cited equation',
  tolerance: 1e-5,
  relative: true,
  reason: 'stated to five or more figures with the gas constant of CODATA',
  rows: [['activationEnergyKjPerMol', 47.2685], ['intercept', -16.11456], ['residual', 0.038326], ['standardError', 2.70737], ['rSquared', 0.98705]],
  actual: (name) => numberOf(fit, name),
  mistakes: {
    'Celsius for kelvin': (name) => (name === 'activationEnergyKjPerMol' ? lineOver((celsius) => celsius).m : name === 'intercept' ? lineOver((celsius) => celsius).b : numberOf(fit, name)),
    'tastings every second day, midpoint taken': (name) => numberOf(fitted(cures.map((cure) => ({ ...cure, tastedEveryDays: 2 }))), name),
    'one cure forgotten': (name) => numberOf(fitted(cures.slice(1)), name),
  },
});

checkAccuracy<Statistic>({
  quantity: 'its 95 % interval and shrunken energy',
  unit: 'kJ/mol',
  source,
  confidence: 'computed from cited inputs by the cited equation',
  tolerance: 0.006,
  reason: 'stated to two decimals',
  rows: [['low', 39.75], ['high', 54.79], ['shrunkenKjPerMol', 47.2]],
  actual: (name) => numberOf(fit, name),
  mistakes: {
    'normal for Student': (name) => fit.activationEnergyKjPerMol + (name === 'low' ? -1.96 : 1.96) * fit.standardError,
    'not shrunken': (name) => (name === 'shrunkenKjPerMol' ? fit.activationEnergyKjPerMol : numberOf(fit, name)),
  },
});

/** Where the line itself lies, without the scatter of one more cure about it: the same t and s, the 1 under the root left out. */
const bandOfTheLine = (temperatureC: number, of: 'days' | 'low' | 'high'): number => {
  const { days, high } = valueOf(predictCureDays(fit, temperatureC));
  const leverage = 1 / fit.cures + (1 / (8.314462618e-3 * (temperatureC + 273.15)) - fit.meanX) ** 2 / fit.sumOfSquaresX;
  const half = Math.log(high / days) * Math.sqrt(leverage / (1 + leverage));
  return of === 'days' ? days : days * Math.exp(of === 'low' ? -half : half);
};
checkAccuracy<readonly [temperatureC: number, of: 'days' | 'low' | 'high']>({
  quantity: 'days at a temperature with 95 % prediction interval',
  unit: 'days',
  source,
  confidence: 'computed from cited inputs by the cited equation',
  tolerance: 0.006,
  reason: 'stated to two decimals',
  rows: [
    [[15, 'days'], 37.15], [[15, 'low'], 33.02], [[15, 'high'], 41.8], [[20, 'days'], 26.54], [[20, 'low'], 23.58], [[20, 'high'], 29.86],
    [[28, 'days'], 15.85], [[28, 'low'], 13.53], [[28, 'high'], 18.58],
  ],
  actual: ([temperatureC, of]) => valueOf(predictCureDays(fit, temperatureC))[of],
  mistakes: {
    'interval of the mean for that of one more cure': ([temperatureC, of]) => bandOfTheLine(temperatureC, of),
    'a straight line of days on °C': ([temperatureC]) => linearRegressionLine(libraryRegression(cures.map((cure) => [cure.temperatureC, cure.days])))(temperatureC),
    'the shrunken energy with the fitted level': ([temperatureC, of]) => valueOf(predictCureDays({ ...fit, activationEnergyKjPerMol: fit.shrunkenKjPerMol }, temperatureC))[of],
  },
});

test('a second library finds the same line', () => {
  const line = lineOver((celsius) => celsius + 273.15);
  expect(fit.activationEnergyKjPerMol).toBeCloseTo(line.m, 8);
  expect(fit.intercept).toBeCloseTo(line.b, 8);
});

describe('what it will not claim', () => {
  test.each([[9, false], [8.9, true], [12, false], [27, false], [27.1, true], [28, true]])('%f °C is extrapolated: %s (observed 12 to 24 °C, three degrees allowed)', (temperatureC, extrapolated) => {
    expect(valueOf(predictCureDays(fit, temperatureC)).extrapolated).toBe(extrapolated);
  });

  test.each([1, 2, 3])('%i cures give only how long they took', (count) => {
    expect(valueOf(fitCures(cures.slice(0, count)))).toEqual({
      method: 'too-few', cures: count, temperatureC: { low: 12, high: 10 + 2 * count }, days: { low: [46, 41, 33][count - 1], high: 46 },
    });
  });

  test('temperatures within four degrees do not give an energy: 45 ± 15 kJ/mol is assumed and widens what lies away from them', () => {
    const alike = fitted([{ temperatureC: 16, days: 33 }, { temperatureC: 17, days: 40 }, { temperatureC: 18, days: 29 }, { temperatureC: 19, days: 34 }]);
    expect(alike).toMatchObject({ method: 'energy-assumed', activationEnergyKjPerMol: 45, standardError: 15, rSquared: null });
    const width = (temperatureC: number): number => { const { low, high } = valueOf(predictCureDays(alike, temperatureC)); return high / low; };
    expect(width(22)).toBeGreaterThan(width(17.5));
    // At the middle of the observed temperatures it is the mean of the logarithms, whatever the energy.
    expect(Math.abs(valueOf(predictCureDays(alike, 17.5)).days - Math.exp((Math.log(33) + Math.log(40) + Math.log(29) + Math.log(34)) / 4))).toBeLessThan(0.05);
  });

  test('cures that took longer the warmer they were are called implausible', () => {
    expect(fitted(cures.map((cure) => ({ ...cure, days: 100 / cure.days }))).plausible).toBe(false);
    expect(fit.plausible).toBe(true);
  });

  test('an exact line has no error to shrink by, and no NaN', () => {
    const exact = fitted([10, 14, 18, 22].map((temperatureC) => ({ temperatureC, days: valueOf(predictCureDays(fit, temperatureC)).days })));
    expect(exact.shrunkenKjPerMol).toBeCloseTo(fit.activationEnergyKjPerMol, 6);
    expect(exact.residual).toBeLessThan(1e-9);
  });

  test('tastings far apart widen the interval of days that happen to fit well', () => {
    const weekly = fitted(cures.map((cure) => ({ ...cure, tastedEveryDays: 7 })));
    expect(weekly.residual).toBeGreaterThan(fit.residual);
  });

  test.each([
    ['cures', []], ['cures.0.days', [{ temperatureC: 15, days: 0 }]], ['cures.1.temperatureC', [{ temperatureC: 15, days: 30 }, { temperatureC: 288, days: 30 }]],
    ['cures.0.temperatureC', [{ temperatureC: Number.NaN, days: 30 }]], ['cures.0.tastedEveryDays', [{ temperatureC: 15, days: 30, tastedEveryDays: 31 }]],
  ])('refused by the name of the field: %s', (field, data) => {
    expect(fitCures(data)).toMatchObject({ ok: false, error: { code: 'outside-valid-range', field } });
  });

  test('a prediction for 60 °C is refused', () => {
    expect(predictCureDays(fit, 60)).toMatchObject({ ok: false, error: { field: 'temperatureC' } });
  });
});

describe('comparing cures', () => {
  /** Half the days ten degrees colder, half ten warmer than the stated mean. */
  const swinging = (lot: string, temperatureC: number, days: number | null, over: Partial<CureStory> = {}): CureStory => ({
    lot, cut: 'slit', style: 'changed-brine', maturity: 'green', days,
    spans: [{ hours: (days ?? 10) * 12, fromC: temperatureC - 5, toC: temperatureC - 5 }, { hours: (days ?? 10) * 12, fromC: temperatureC + 5, toC: temperatureC + 5 }],
    ...over,
  });
  const stories = cures.map((cure, i) => swinging(`lot-${i}`, cure.temperatureC, cure.days));

  test('regresses on mean kinetic temperatures that use the fitted energy themselves', () => {
    const [group] = compareCures(stories);
    expect(group?.cures.every((cure, i) => cure.temperatureC > (cures[i] as FinishedCure).temperatureC)).toBe(true);
    const found = group?.fit as FittedCures;
    const again = fitted((group?.cures ?? []).map(({ temperatureC, days }) => ({ temperatureC, days })));
    expect(again.activationEnergyKjPerMol).toBeCloseTo(found.activationEnergyKjPerMol, 9);
    // The fixed point: another turn changes nothing that matters.
    expect(found.activationEnergyKjPerMol).toBeGreaterThan(47.2);
    expect(found.activationEnergyKjPerMol).toBeLessThan(49);
  });

  test('never pools kept with changed brine, nor cuts, nor maturities', () => {
    const groups = compareCures([...stories, swinging('kept', 15, 200, { style: 'kept-brine' }), swinging('whole', 15, 90, { cut: 'whole' }), swinging('black', 15, 20, { maturity: 'black' })]);
    expect(groups.map((group) => group.cures.length)).toEqual([6, 1, 1, 1]);
    expect(groups.slice(1).every((group) => group.fit?.method === 'too-few')).toBe(true);
  });

  test('says what it left out and why', () => {
    const [group] = compareCures([
      ...stories, swinging('going', 15, null), swinging('blind', 15, 30, { spans: [] }),
      swinging('gappy', 15, 30, { spans: [{ hours: 100, fromC: 15, toC: 15 }] }), swinging('boiling', 90, 30),
    ]);
    expect(group?.leftOut).toEqual([
      { lot: 'going', reason: 'not-finished' }, { lot: 'blind', reason: 'no-temperatures' }, { lot: 'gappy', reason: 'too-many-gaps' }, { lot: 'boiling', reason: 'outside-valid-range' },
    ]);
    expect(group?.cures).toHaveLength(6);
  });

  test('a group of unfinished cures has no fit', () => {
    expect(compareCures([swinging('going', 15, null)])[0]).toMatchObject({ fit: null, cures: [] });
  });
});
