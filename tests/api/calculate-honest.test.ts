import { afterAll, describe, expect, test } from 'vitest';
import type { CalculatorName } from '#contract';
import { calculateExamples } from '../helpers/calculate-examples.ts';
import { serveCalculators } from '../helpers/calculate-server.ts';

/** What stands beside the numbers: what was assumed, what to mind, and what is not known. */
const server = await serveCalculators();
afterAll(() => server.close());
const { ask } = server;

const parts = [{ hours: 24, temperatureC: 20 }];
const model = ['leachingRate', 'hydrolysisRate', 'startingBitterness', 'endPoints'];
const leach = { cut: 'slit', maturity: 'turning', fruitKg: 10, brineL: 8, days: 3 };
const shares = { stoneFraction: 0.2, fleshMoisture: 0.7 };

describe('assumed names the defaults that were used, and only those', () => {
  test.each<[CalculatorName, object, readonly string[]]>([
    ['mean-kinetic-temperature', { parts }, ['activationEnergyKjPerMol']],
    ['mean-kinetic-temperature', { parts, activationEnergyKjPerMol: 83.144 }, []],
    ['pasteurisation', { parts: [{ minutes: 1, temperatureC: 70 }], zC: 5.25 }, ['referenceC']],
    ['salt-equilibrium', { fruitKg: 1, stoneFraction: 0.2, fleshMoisture: 0.6, brineL: 1, brineGPerL: 100 }, ['fleshGPerL']],
    ['leaching', { ...leach, temperatureC: 15, changes: [] }, ['stoneFraction', 'fleshMoisture', ...model]],
    ['leaching', { ...leach, ...shares, temperatureC: 15, changes: [{ day: 1, fraction: 0.5 }, { day: 2 }] }, ['changes.fraction', ...model]],
    ['leaching', { ...leach, ...shares, parts, changes: [{ day: 1, fraction: 1 }] }, [...model, 'temperatureAfterParts']],
    ['drum-warming', { parts, startC: 15, timeConstantHours: 14, hours: 24 }, []],
    ['drum-warming', { parts, startC: 15, timeConstantHours: 14, hours: 25 }, ['airAfterParts']],
    ['yield', { fruitKg: 10, jarMl: 720 }, ['cullFraction', 'pitted', 'weightChange', 'brinePercentWw', 'brineLoss', 'packingKgPerL']],
    ['yield', { ...calculateExamples.yield[0], volumeL: 50, fruitKg: undefined }, ['bulkDensityKgPerL']],
    ['yield', calculateExamples.yield[0], []],
    ['cure-regression', { cures: [39, 40, 42, 44].map((days) => ({ temperatureC: 12, days })), at: [] }, ['activationEnergyKjPerMol']],
    ['brine-mix', { brineL: 10, targetPercentWw: 8, temperatureC: 20 }, []],
  ])('%s %j: %j', async (name, input, assumed) => {
    expect(((await ask(name, input)).assumed ?? []).toSorted()).toEqual([...assumed].sort());
  });
});

test('a default that is left out and the same value given are one answer', async () => {
  for (const [name, full, left] of [['leaching', calculateExamples.leaching[0], ['stoneFraction', 'fleshMoisture']], ['pasteurisation', calculateExamples.pasteurisation[0], ['referenceC', 'zC']]] as const) {
    const short = Object.fromEntries(Object.entries(full).filter(([key]) => !(left as readonly string[]).includes(key)));
    const { assumed: _one, ...given } = await ask(name, full);
    const { assumed: _other, ...assumed } = await ask(name, short);
    expect(assumed).toEqual(given);
  }
});

const buffers = [{ ph: 7, mv: 0 }, { ph: 4, mv: 177.48 }];
const phAt = (ph: number) => ({ mv: (7 - ph) * 59.16, points: buffers, calibrationC: 25, temperatureC: 25 });
const equilibrium = { fruitKg: 10, stoneFraction: 0.17, fleshMoisture: 0.65, brineL: 7.3 };

describe('a caution stands where it can hurt somebody', () => {
  test.each<[string, CalculatorName, object, RegExp | null]>([
    // CXS 66-1981: natural olives at least 6 % salt, pH at most 4.3; 21 CFR 114.3: pH 4.6.
    ['plain water', 'brine-strength', { basis: 'percent-ww', value: 0, temperatureC: 20 }, /holds back nothing.*daily.*never seal/],
    ['any recipe', 'recipe-check', { text: '1 kg salt, 5 L water, 1 L vinegar' }, /pH of a recipe is unknown.*4\.3.*local rules/],
    ['a recipe under oil', 'recipe-check', { text: '1 kg salt, 5 L water, olive oil' }, /Oil shuts out air/],
    ['a weak recipe', 'recipe-check', { text: '1/3 cup salt in 2 L' }, /may settle under 6 %: change it daily/],
    ['weak brine', 'brine-strength', { basis: 'percent-ww', value: 5.9, temperatureC: 20 }, /6 %.*CXS 66/],
    ['6 % brine, measured', 'brine-strength', { basis: 'percent-ww', value: 6, temperatureC: 20 }, null],
    ['weak brine by hydrometer', 'hydrometer', { specificGravity: 1.03, sampleC: 20, calibratedAtC: 20 }, /6 %/],
    ['a strong brine to pour', 'brine-mix', { brineL: 10, targetPercentWw: 10, temperatureC: 20 }, /fruit takes its share.*6 %/],
    ['a weak brine to pour', 'brine-mix', { brineL: 10, targetPercentWw: 5, temperatureC: 20 }, /Under 6 %/],
    // Common practice, no source: a third of a cup in two litres; under 5 % w/w.
    ['a third of a cup in 2 L', 'salt-by-cup', { cups: 1 / 3, saltKind: 'table', waterL: 2 }, /Under 6 %/],
    // 6.1 % at the usual weight of a cup, 5.8 % at the light end.
    ['only the light end of the spread is weak', 'salt-by-cup', { cups: 0.85, saltKind: 'table', waterL: 3.785 }, /Under 6 %/],
    ['settles under 6 %', 'salt-equilibrium', { ...equilibrium, brineGPerL: 100 }, /Under 6 %/],
    ['settles over 6 %', 'salt-equilibrium', { ...equilibrium, brineGPerL: 120 }, null],
    ['pH 4.1', 'ph-from-mv', phAt(4.1), null],
    ['pH 4.25, too near with a meter good to 0.1', 'ph-from-mv', phAt(4.25), /4\.3.*0\.1/],
    ['pH 4.5', 'ph-from-mv', phAt(4.5), /4\.3/],
    ['pH 5', 'ph-from-mv', phAt(5), /4\.6.*botulinum.*do not taste/],
    ['an electrode that is no good', 'ph-electrode', { points: [{ ph: 7, mv: 40 }, { ph: 4, mv: 210 }], temperatureC: 25 }, /pH is unknown/],
    ['an electrode that is good', 'ph-electrode', { points: buffers, temperatureC: 25 }, null],
    ['mean kinetic temperature', 'mean-kinetic-temperature', { parts }, /nothing about the growth of microbes/],
    ['degree-hours', 'degree-hours', { parts, baseC: 15 }, /nothing about the growth of microbes/],
    ['heat', 'pasteurisation', { parts: [{ minutes: 8, temperatureC: 75 }] }, /already acid.*does not kill the spores/],
    ['leaching', 'leaching', { ...leach, temperatureC: 15, changes: [] }, /Bitterness and safety are separate.*acid/],
    ['acid', 'acid-dose', { benchMl: 1_000, benchAcidMl: 30, brineL: 20, acidPercent: 5 }, /brine alone is too small.*measured/],
    ['strong acid', 'acid-dose', { benchMl: 1_000, benchAcidMl: 1, brineL: 20, acidPercent: 80 }, /goggles/],
    ['a drum that stays cool', 'drum-warming', { airC: 20, startC: 15, timeConstantHours: 14, hours: 24 }, null],
    ['a drum that was warm on the way', 'drum-warming', { airC: 5, startC: 28, timeConstantHours: 14, hours: 240 }, /25 °C/],
    ['jars', 'yield', { fruitKg: 10, jarMl: 720 }, /4\.3.*hot brine/],
    ['a count of fruits', 'maturity-index', { counts: [1, 0, 0, 0, 0, 0, 0, 0] }, null],
    ['a sound sensor', 'sensor', { kind: 'pt100', ohm: 107.79 }, null],
  ])('%s', async (_situation, name, input, words) => {
    const { caution } = await ask(name, input);
    if (words === null) expect(caution).toBeUndefined();
    else {
      expect(caution).toMatch(words);
      expect(caution).toMatch(/local rules/);
      expect(caution).not.toMatch(/safe to eat/);
    }
  });
});

describe('too little to say is said', () => {
  test('one to three cures: how long they took, and no fit', async () => {
    const body = await ask('cure-regression', { cures: [{ temperatureC: 15, days: 40 }, { temperatureC: 18, days: 31 }], at: [16, 25] });
    expect(body).toMatchObject({
      method: 'too-few', refused: '2 of the 4 finished cures that a fit needs: low and high are what these cures took',
      activationEnergyKjPerMol: null, intercept: null, standardError: null, residual: null, rSquared: null,
      predictions: [{ temperatureC: 16, days: null, low: 31, high: 40, extrapolated: false }, { temperatureC: 25, days: null, low: 31, high: 40, extrapolated: true }],
    });
  });

  test('temperatures too alike: the energy is assumed, and said to be', async () => {
    const body = await ask('cure-regression', { cures: [39, 40, 42, 44].map((days) => ({ temperatureC: 12, days })), at: [12, 30] });
    expect(body).toMatchObject({ method: 'energy-assumed', activationEnergyKjPerMol: 45, standardError: 15, rSquared: null });
    expect(body.predictions.map(({ extrapolated }) => extrapolated)).toEqual([false, true]);
    expect('refused' in body).toBe(false);
  });

  test('a cure that does not become sweet in its days has no day, not the last one', async () => {
    const body = await ask('leaching', { ...leach, cut: 'whole', maturity: 'green', temperatureC: 10, changes: [], days: 20 });
    expect([body.dayPleasant, body.daySweet, body.curve.length]).toEqual([null, null, 21]);
  });

  test('dry salt is not proposed to make a brine weaker', async () => {
    const body = await ask('salt-equilibrium', { ...equilibrium, brineGPerL: 200, targetGPerL: 60 });
    expect(['brineForTargetGPerL' in body, 'dryTopUpG' in body]).toEqual([true, false]);
  });
});

describe('where one field decides how far another may go, the answer tells the narrower range', () => {
  test.each<[CalculatorName, object, string, number, number]>([
    ['brine-strength', { basis: 'percent-ww', value: 8, temperatureC: 20 }, 'value', 0, 26.5],
    ['brine-strength', { basis: 'salometer', value: 8, temperatureC: 20 }, 'value', 0, 100.4],
    ['hydrometer', { densityKgPerM3: 1_059, sampleC: 10, calibratedAtC: 20 }, 'densityKgPerM3', 999.45, 1_206.3],
    ['ph-buffer', { set: 'technical-7', temperatureC: 12 }, 'temperatureC', 0, 50],
    ['ph-buffer', { set: 'borax', temperatureC: 12 }, 'temperatureC', 0, 60],
  ])('%s %j', async (name, input, field, low, high) => {
    const range = (await ask(name, input)).validRange[field];
    expect(range?.low).toBeCloseTo(low, 1);
    expect(range?.high).toBeCloseTo(high, 1);
  });

  test('a sensor tells the ranges of its own kind', async () => {
    expect(Object.keys((await ask('sensor', { kind: 'pt100', ohm: 100 })).validRange)).toEqual(['ohm']);
  });
});
