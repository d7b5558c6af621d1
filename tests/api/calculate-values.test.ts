import { linearRegression } from 'simple-statistics';
import { afterAll, expect, test } from 'vitest';
import { calculatorNames, type CalculatorName } from '#contract';
import { serveCalculators } from '../helpers/calculate-server.ts';
import { checkServed, type ServedTable } from '../helpers/calculate-values.ts';
import { cell, published } from '../helpers/published.ts';

/** Each calculator over HTTP against stated values: that the fields of the request reach the right arguments, in the right unit. */
const server = await serveCalculators();
afterAll(() => server.close());
const checked = new Set<CalculatorName>();
const check =
  <Name extends CalculatorName>(name: Name) =>
  async <Row>(table: ServedTable<Name, Row>): Promise<void> => {
    checked.add(name);
    await checkServed(server, name, table);
  };
const computed = 'computed from cited inputs by the cited equation';
const rowsOf = (name: string, input: string, output: string): (readonly [number, number])[] => {
  const table = published(name);
  return table.rows.map((row) => [cell(table, row, input), cell(table, row, output)] as const);
};
const sourceOf = (name: string) => {
  const { source, confidence } = published(name);
  return { source, confidence };
};

await check('brine-strength')<number>({
  quantity: 'density by % w/w at 20 °C', unit: 'kg/m³', ...sourceOf('brine-density-20c'), tolerance: 0.8, reason: 'a tenth of a per cent of salt',
  rows: rowsOf('brine-density-20c', 'percentWw', 'densityKgPerM3'),
  ask: (value) => ({ input: { basis: 'percent-ww', value, temperatureC: 20 }, answer: (body) => body.densityKgPerM3 }),
  mistakes: {
    'g per 100 g of water for % w/w': (value) => ({ input: { basis: 'g-per-100g-water', value, temperatureC: 20 }, answer: (body) => body.densityKgPerM3 }),
    'temperature not passed on': (value) => ({ input: { basis: 'percent-ww', value, temperatureC: 0 }, answer: (body) => body.densityKgPerM3 }),
  },
});
await check('brine-strength')<number>({
  quantity: '% w/w by g/L at 20 °C', unit: '% w/w', ...sourceOf('brine-density-20c'), tolerance: 0.01, reason: 'the table is stated to a few hundredths of a per cent',
  rows: rowsOf('brine-density-20c', 'gPerL', 'percentWw'),
  ask: (value) => ({ input: { basis: 'g-per-l', value, temperatureC: 20 }, answer: (body) => body.percentWw }),
  mistakes: { '% w/v for % w/w': (value) => ({ input: { basis: 'percent-wv', value: value / 10, temperatureC: 20 }, answer: (body) => body.percentWv }) },
});
await check('brine-strength')<number>({
  quantity: '% w/w by salometer', unit: '% w/w', ...sourceOf('brine-salometer'), tolerance: 0.001, reason: 'exact by definition, stated to three decimals',
  rows: rowsOf('brine-salometer', 'degrees', 'percentWw'),
  ask: (value) => ({ input: { basis: 'salometer', value, temperatureC: 15.56 }, answer: (body) => body.percentWw }),
  mistakes: { 'a scale that ends at 25 %': (value) => ({ input: { basis: 'percent-ww', value: value / 4, temperatureC: 15.56 }, answer: (body) => body.percentWw }) },
});
await check('brine-strength')<number>({
  quantity: 'water activity by salt to water', unit: '', ...sourceOf('brine-water-activity-food'), tolerance: 0.0045, reason: 'stated to 0.005 or 0.01',
  rows: rowsOf('brine-water-activity-food', 'gPer100GWater', 'waterActivity'),
  ask: (value) => ({ input: { basis: 'g-per-100g-water', value, temperatureC: 25 }, answer: (body) => body.waterActivity }),
  mistakes: { 'read as % w/w, as it is often copied': (value) => ({ input: { basis: 'percent-ww', value, temperatureC: 25 }, answer: (body) => body.waterActivity }) },
});

const grid = published('brine-density-grid');
interface Reading { readonly densityKgPerM3: number; readonly sampleC: number }
await check('hydrometer')<Reading>({
  quantity: 'what a 20 °C hydrometer shows in a brine of known strength', unit: '% w/w', source: `${grid.source}; glass 25e-6 per °C after ISO 649-1 (from memory)`, confidence: computed, tolerance: 0.04, reason: '0.25 kg/m³',
  rows: [0, 10, 30, 40].flatMap((sampleC) => grid.rows.filter((row) => cell(grid, row, 'percentWw') > 0).map((row) => [{ sampleC, densityKgPerM3: cell(grid, row, `${sampleC} °C`) * 999.972 * (1 + 25e-6 * (sampleC - 20)) }, cell(grid, row, 'percentWw')] as const)),
  ask: ({ densityKgPerM3, sampleC }) => ({ input: { densityKgPerM3, sampleC, calibratedAtC: 20 }, answer: (body) => body.percentWw }),
  mistakes: {
    'temperatures exchanged': ({ densityKgPerM3, sampleC }) => ({ input: { densityKgPerM3, sampleC: 20, calibratedAtC: sampleC }, answer: (body) => body.percentWw }),
    'g/L for % w/w': ({ densityKgPerM3, sampleC }) => ({ input: { densityKgPerM3, sampleC, calibratedAtC: 20 }, answer: (body) => body.gPerL / 10 }),
  },
});
await check('hydrometer')<number>({
  quantity: 'specific gravity 60/60 °F of salometer degrees', unit: '% w/w', source: 'handbook rows of salometer degrees with specific gravity', confidence: 'from memory', tolerance: 0.08, reason: 'gravity is stated to 0.001, or 0.14 % of salt',
  rows: rowsOf('brine-salometer', 'specificGravity60F', 'percentWw').filter(([, percentWw]) => percentWw > 0 && percentWw < 26),
  ask: (specificGravity) => ({ input: { specificGravity, sampleC: 15.56, calibratedAtC: 15.56 }, answer: (body) => body.percentWw }),
  mistakes: { 'gravity against water at 4 °C': (specificGravity) => ({ input: { densityKgPerM3: specificGravity * 1_000, sampleC: 15.56, calibratedAtC: 15.56 }, answer: (body) => body.percentWw }) },
});

await check('brine-mix')<number>({
  quantity: 'salt in ten litres at 20 °C', unit: 'of the value', relative: true, ...sourceOf('brine-density-20c'), tolerance: 0.001, reason: 'the table is stated to three or four figures',
  rows: rowsOf('brine-density-20c', 'percentWw', 'gPerL').map(([percentWw, gPerL]) => [percentWw, gPerL * 10] as const),
  ask: (targetPercentWw) => ({ input: { brineL: 10, targetPercentWw, temperatureC: 20 }, answer: (body) => body.saltG }),
  mistakes: { 'so many grams in a litre of water': (targetPercentWw) => ({ input: { brineL: 10, targetPercentWw, temperatureC: 20 }, answer: (body) => (body.waterL * 1_000 * targetPercentWw) / 100 }) },
});
await check('brine-mix')<number>({
  quantity: 'cups of pickling salt, by grams', unit: 'of the value', relative: true, source: 'University of California leaflet: 8 oz (226.8 g) are 3/4 cup, 1 lb is 1 1/2 cups', confidence: 'read in a second copy of the source', tolerance: 0.05, reason: 'a cup of salt is known to 5 % at best',
  rows: [[226.8, 0.75], [453.6, 1.5]],
  ask: (saltG) => ({ input: { brineL: saltG / 107.07, targetPercentWw: 10, temperatureC: 20, saltKind: 'pickling' }, answer: (body) => body.cups?.value }),
  mistakes: { 'the kind of salt ignored': (saltG) => ({ input: { brineL: saltG / 107.07, targetPercentWw: 10, temperatureC: 20, saltKind: 'light-flake-kosher' }, answer: (body) => body.cups?.value }) },
});

type Recipe = readonly [cups: number, saltKind: string];
await check('salt-by-cup')<Recipe>({
  quantity: 'cups in a US gallon of water', unit: '% w/w', source: 'mass balance on published cup weights: 292, 240 and 135 g', confidence: computed, tolerance: 0.2, reason: 'cup weights of one kind of salt differ by 5 %',
  rows: [[[0.75, 'table'], 5.48], [[1.5, 'table'], 10.39], [[0.75, 'coarse-rolled-kosher'], 4.55], [[1.5, 'coarse-rolled-kosher'], 8.7], [[0.75, 'light-flake-kosher'], 2.61], [[1.5, 'light-flake-kosher'], 5.09]],
  ask: ([cups, saltKind]) => ({ input: { cups, saltKind, waterL: 3.785411784 }, answer: (body) => body.percentWw.value }),
  mistakes: {
    'the kind of salt ignored': ([cups]) => ({ input: { cups, saltKind: 'table', waterL: 3.785411784 }, answer: (body) => body.percentWw.value }),
    'g per 100 mL of water': ([cups, saltKind]) => ({ input: { cups, saltKind, waterL: 3.785411784 }, answer: (body) => body.saltG.value / 37.85 }),
  },
});

const tenKg = { fruitKg: 10, stoneFraction: 0.17, fleshMoisture: 0.65, brineL: 7.3, brineGPerL: 100, targetGPerL: 80 };
type Settled = 'fleshWaterL' | 'equilibriumGPerL' | 'brineForTargetGPerL' | 'dryTopUpG';
await check('salt-equilibrium')<Settled>({
  quantity: '10 kg of fruit in 7.3 L at 100 g/L, to 80 g/L', unit: 'L, g/L or g', source: 'mass balance over flesh water and brine, worked out apart from this code', confidence: computed, tolerance: 0.06, reason: 'stated to one or two decimals',
  rows: [['fleshWaterL', 5.395], ['equilibriumGPerL', 57.5], ['brineForTargetGPerL', 139.1], ['dryTopUpG', 285.6]],
  ask: (key) => ({ input: tenKg, answer: (body) => body[key] }),
  mistakes: {
    'stones counted as flesh': (key) => ({ input: { ...tenKg, stoneFraction: 0 }, answer: (body) => body[key] }),
    'salt already in the flesh': (key) => ({ input: { ...tenKg, fleshGPerL: 20 }, answer: (body) => body[key] }),
  },
});

for (const [table, sets] of [['acid-buffers-standard', ['phthalate', 'phosphate', 'borax']], ['acid-buffers-technical', ['technical-4', 'technical-7', 'technical-10']]] as const) {
  for (const set of sets) {
    await check('ph-buffer')<number>({
      quantity: set, unit: 'pH', ...sourceOf(table), tolerance: 1e-9, reason: 'the table itself',
      rows: rowsOf(table, 'temperatureC', set),
      ask: (temperatureC) => ({ input: { set, temperatureC }, answer: (body) => body.ph }),
      mistakes: { 'the number on the bottle': () => ({ input: { set, temperatureC: 25 }, answer: (body) => body.ph }), 'another set': (temperatureC) => ({ input: { set: set === 'phosphate' ? 'technical-7' : 'phosphate', temperatureC: Math.min(temperatureC, 50) }, answer: (body) => body.ph }) },
    });
  }
}

const buffers = [{ ph: 7.01, mv: -15 }, { ph: 4.01, mv: 160 }];
type Slope = 'slopeMvPerPh' | 'slopePercent' | 'offsetMv';
await check('ph-electrode')<Slope>({
  quantity: '-15 mV at 7.01 and +160 mV at 4.01', unit: 'mV or %', source: 'electrode guide (studylib 25392327), slope computed', confidence: computed, tolerance: 0.06, reason: 'stated to one or two decimals',
  rows: [['slopeMvPerPh', 58.33], ['slopePercent', 98.6], ['offsetMv', -14.4]],
  ask: (key) => ({ input: { points: buffers, temperatureC: 25 }, answer: (body) => body[key] }),
  mistakes: { 'another temperature': (key) => ({ input: { points: buffers, temperatureC: 10 }, answer: (body) => body[key] }), 'the bottles say 7 and 4': (key) => ({ input: { points: [{ ph: 7, mv: -15 }, { ph: 4, mv: 160 }], temperatureC: 25 }, answer: (body) => body[key] }) },
});
const perfect = [{ ph: 7, mv: 0 }, { ph: 4, mv: 3 * 59.159 }];
await check('ph-from-mv')<readonly [temperatureC: number, mv: number]>({
  quantity: 'millivolts of a perfect electrode at pH 4.30', unit: 'pH', ...sourceOf('acid-nernst'), tolerance: 0.0005, reason: 'slopes are stated to 0.001 mV',
  rows: rowsOf('acid-nernst', 'temperatureC', 'slopeMv').map(([temperatureC, slopeMv]) => [[temperatureC, slopeMv * 2.7], 4.3] as const),
  ask: ([temperatureC, mv]) => ({ input: { mv, points: perfect, calibrationC: 25, temperatureC }, answer: (body) => body.ph }),
  mistakes: { uncompensated: ([, mv]) => ({ input: { mv, points: perfect, calibrationC: 25, temperatureC: 25 }, answer: (body) => body.ph }), 'temperatures exchanged': ([temperatureC, mv]) => ({ input: { mv, points: perfect, calibrationC: temperatureC, temperatureC: 25 }, answer: (body) => body.ph }) },
});

const hours = (...parts: (readonly [hours: number, temperatureC: number])[]) => parts.map(([one, temperatureC]) => ({ hours: one, temperatureC }));
interface History { readonly parts: ReturnType<typeof hours>; readonly energy: number | null }
const kinetic = ({ parts, energy }: History) => ({ parts, ...(energy === null ? {} : { activationEnergyKjPerMol: energy }) });
await check('mean-kinetic-temperature')<History>({
  quantity: 'uneven histories', unit: '°C', source: 'equation of USP <1160>, 83.144 kJ/mol where no energy is given', confidence: computed, tolerance: 0.006, reason: 'stated to two decimals',
  rows: [
    [{ parts: hours([23, 20], [1, 40]), energy: null }, 22.4479], [{ parts: hours([1, 15], [1, 35]), energy: null }, 29.4686], [{ parts: hours([5, 20], [5, 30]), energy: null }, 26.2599],
    [{ parts: hours([1, 10], [1, 20]), energy: 40 }, 15.63], [{ parts: hours([1, 10], [1, 20]), energy: 45 }, 15.72], [{ parts: hours([4, 4], [1, 16]), energy: 45 }, 7.2],
  ],
  ask: (history) => ({ input: kinetic(history), answer: (body) => body.meanKineticC }),
  mistakes: {
    'plain mean': (history) => ({ input: kinetic(history), answer: (body) => body.meanC }),
    'hours ignored': ({ parts, energy }) => ({ input: kinetic({ parts: parts.map((part) => ({ ...part, hours: 1 })), energy }), answer: (body) => body.meanKineticC }),
    'energy ignored': ({ parts }) => ({ input: { parts }, answer: (body) => body.meanKineticC }),
  },
});
await check('degree-hours')<ReturnType<typeof hours>>({
  quantity: 'degree-hours above 15.6 °C', unit: '°C·h', source: 'Canadian rules for fermented sausage: 25 °C for 70.7 h is 665; a log summed by them', confidence: 'read in a second copy of the source', tolerance: 0.5, reason: 'hours are stated to 0.1',
  rows: [[hours([70.7, 25]), 665], [hours([8, 24], [12, 22], [24, 18.5], [6, 15], [10, 20]), 257.6]],
  ask: (parts) => ({ input: { parts, baseC: 15.6 }, answer: (body) => body.degreeHours }),
  mistakes: { 'time below the base taken off': (parts) => ({ input: { parts: parts.filter((part) => part.temperatureC > 15.6).map((part, i) => (i === 0 ? { ...part, hours: part.hours - 6 } : part)), baseC: 15.6 }, answer: (body) => body.degreeHours }), 'another base': (parts) => ({ input: { parts, baseC: 15 }, answer: (body) => body.degreeHours }) },
});
await check('pasteurisation')<readonly [minutes: number, temperatureC: number]>({
  quantity: 'units of propionic bacteria', unit: 'PU', source: 'table olive glossary of the International Olive Council: 62.4 °C, z 5.25 °C', confidence: computed, tolerance: 0.6, reason: 'stated to the whole unit, the last one cut (2009.51)',
  rows: [[[15, 62.4], 15], [[10, 70], 280], [[8, 75], 2009]],
  ask: ([minutes, temperatureC]) => ({ input: { parts: [{ minutes, temperatureC }] }, answer: (body) => body.units }),
  mistakes: { '60 °C, z 7 °C': ([minutes, temperatureC]) => ({ input: { parts: [{ minutes, temperatureC }], referenceC: 60, zC: 7 }, answer: (body) => body.units }) },
});

// 10 kg hold 5.395 L of flesh water, so that this much brine makes r 1.5.
const fruit = { maturity: 'green', fruitKg: 10, brineL: 5.395 * 1.5, days: 400 };
interface Cure { readonly cut: string; readonly every: number; readonly temperatureC: number; readonly key: 'dayPleasant' | 'daySweet' }
const cure = ({ cut, every, temperatureC }: Cure, fraction?: number) => ({ ...fruit, cut, temperatureC, changes: Array.from({ length: Math.floor(200 / every) }, (_one, i) => ({ day: (i + 1) * every, ...(fraction === undefined ? {} : { fraction }) })) });
await check('leaching')<Cure>({
  quantity: 'days to pleasant and to sweet, r 1.5', unit: 'days', source: 'the model worked out apart from this code, starting guesses', confidence: 'assumption', tolerance: 0.6, reason: 'stated to the whole day',
  rows: ([['cracked', 1, 20, 7.3, 12], ['cracked', 7, 15, 14, 22], ['slit', 1, 10, 30, 50], ['slit', 7, 20, 20, 33], ['whole', 14, 25, 45, 75]] as const).flatMap(([cut, every, temperatureC, pleasant, sweet]) => [
    [{ cut, every, temperatureC, key: 'dayPleasant' }, pleasant] as const, [{ cut, every, temperatureC, key: 'daySweet' }, sweet] as const,
  ]),
  ask: (row) => ({ input: cure(row), answer: (body) => body[row.key] }),
  mistakes: {
    'half a change for a whole one': (row) => ({ input: cure(row, 0.5), answer: (body) => body[row.key] }),
    'temperature ignored': (row) => ({ input: cure({ ...row, temperatureC: 20 }), answer: (body) => body[row.key] }),
    'a history of one day taken for the whole': (row) => ({ input: { ...cure(row), temperatureC: undefined, parts: [{ hours: 24, temperatureC: row.temperatureC }, { hours: 24, temperatureC: 30 }] }, answer: (body) => body[row.key] }),
  },
});

const days = [[12, 46], [14, 41], [16, 33], [18, 31], [21, 24], [24, 21]] as const;
const cures = days.map(([temperatureC, took]) => ({ temperatureC, days: took }));
const line = linearRegression(days.map(([temperatureC, took]) => [1 / (8.314462618e-3 * (temperatureC + 273.15)), Math.log(took)]));
type Fit = 'activationEnergyKjPerMol' | 'intercept' | 'standardError' | 'residual' | 'rSquared';
await check('cure-regression')<Fit>({
  quantity: 'six synthetic cures', unit: 'of the value', source: 'slope and intercept by simple-statistics, the rest worked out apart from this code', confidence: computed, tolerance: 1e-5, relative: true, reason: 'stated to five or more figures',
  rows: [['activationEnergyKjPerMol', line.m], ['intercept', line.b], ['standardError', 2.70737], ['residual', 0.038326], ['rSquared', 0.98705]],
  ask: (key) => ({ input: { cures, at: [] }, answer: (body) => body[key] }),
  mistakes: { 'one cure lost': (key) => ({ input: { cures: cures.slice(1), at: [] }, answer: (body) => body[key] }), 'the shrunken energy': () => ({ input: { cures, at: [] }, answer: (body) => body.shrunkenKjPerMol }) },
});
type Predicted = readonly [temperatureC: number, key: 'days' | 'low' | 'high'];
await check('cure-regression')<Predicted>({
  quantity: 'days of one more cure, 95 % interval', unit: 'days', source: 'prediction interval of simple regression, worked out apart from this code', confidence: computed, tolerance: 0.006, reason: 'stated to two decimals',
  rows: [[[15, 'days'], 37.15], [[15, 'low'], 33.02], [[15, 'high'], 41.8], [[28, 'days'], 15.85], [[28, 'low'], 13.53], [[28, 'high'], 18.58]],
  ask: ([temperatureC, key]) => ({ input: { cures, at: [20, temperatureC] }, answer: (body) => body.predictions[1]?.[key] }),
  mistakes: { 'the first temperature for each': ([temperatureC, key]) => ({ input: { cures, at: [20, temperatureC] }, answer: (body) => body.predictions[0]?.[key] }) },
});

type Dose = 'acidMl' | 'aceticPercentAdded';
await check('acid-dose')<Dose>({
  quantity: '30 mL of 5 % vinegar in 1 L, for 20 L', unit: 'of the value', relative: true, source: 'proportion', confidence: computed, tolerance: 0.003, reason: 'stated to three figures',
  rows: [['acidMl', 600], ['aceticPercentAdded', 0.1456]],
  ask: (key) => ({ input: { benchMl: 1_000, benchAcidMl: 30, brineL: 20, acidPercent: 5 }, answer: (body) => body[key] }),
  mistakes: { 'diluted by the brine alone': () => ({ input: { benchMl: 1_000, benchAcidMl: 30, brineL: 20, acidPercent: 5 }, answer: (body) => (body.acidMl * 5) / 20_000 }) },
});

interface Cooling { readonly startC: number; readonly afterMinutes: number; readonly cooledC: number; readonly minutes: number }
const cooling = ({ startC, afterMinutes, cooledC, minutes }: Cooling, airC = 20) => ({ airC, startC, timeConstantHours: afterMinutes / 60 / Math.log((startC - 20) / (cooledC - 20)), hours: minutes / 60 });
await check('drum-warming')<Cooling>({
  quantity: 'a body that cools in a room at 20 °C', unit: '°C', source: "Newton's law of cooling, two published school problems", confidence: computed, tolerance: 1e-6, reason: 'the second point of each is exact',
  rows: [[{ startC: 100, afterMinutes: 5, cooledC: 80, minutes: 10 }, 65], [{ startC: 95, afterMinutes: 30, cooledC: 61, minutes: 30 }, 61]],
  ask: (row) => ({ input: cooling(row), answer: (body) => body.temperatureC }),
  mistakes: { 'the same fall again in the same time': (row) => ({ input: cooling(row), answer: () => row.startC - ((row.startC - row.cooledC) * row.minutes) / row.afterMinutes }), 'another room': (row) => ({ input: cooling(row, 25), answer: (body) => body.temperatureC }) },
});

await check('maturity-index')<readonly number[]>({
  quantity: 'a sample of 100', unit: '', source: 'harvest maturity index of olive growing handbooks, classes 0 to 7', confidence: computed, tolerance: 1e-9, reason: 'exact',
  rows: [[[5, 20, 35, 20, 12, 5, 2, 1], 2.42], [[1, 0, 0, 0, 0, 0, 0, 1], 3.5]],
  ask: (counts) => ({ input: { counts }, answer: (body) => body.index }),
  mistakes: { 'classes 1 to 8': (counts) => ({ input: { counts }, answer: (body) => body.index + 1 }), 'counted from the black end': (counts) => ({ input: { counts: counts.toReversed() }, answer: (body) => body.index }) },
});
type Yield = 'curedKg' | 'jars' | 'brineL' | 'saltG';
const pick = { fruitKg: 28.6, cullFraction: 0.03, jarMl: 720 };
await check('yield')<Yield>({
  quantity: '28.6 kg, 3 % culls, jars of 720 mL', unit: 'of the value', relative: true, source: 'mass balance with 0.55 kg of fruit per litre of jar, 90 % fill and 8 % w/w brine, 10 % spilled', confidence: computed, tolerance: 0.005, reason: 'stated to three figures',
  rows: [['curedKg', 27.742], ['jars', 70], ['brineL', 20.6], ['saltG', 1_740]],
  ask: (key) => ({ input: pick, answer: (body) => body[key] }),
  mistakes: { pitted: (key) => ({ input: { ...pick, pitted: true }, answer: (body) => body[key] }), 'weight for volume': (key) => ({ input: { volumeL: 28.6, cullFraction: 0.03, jarMl: 720 }, answer: (body) => body[key] }) },
});

await check('sensor')<number>({
  quantity: 'Pt100', unit: '°C', ...sourceOf('sensor-pt100'), tolerance: 0.02, reason: 'ohms are stated to 0.01',
  rows: rowsOf('sensor-pt100', 'ohm', 'temperatureC'),
  ask: (ohm) => ({ input: { kind: 'pt100', ohm }, answer: (body) => body.temperatureC }),
  mistakes: { 'leads of 0.4 Ω left in': (ohm) => ({ input: { kind: 'pt100', ohm: ohm + 0.4 }, answer: (body) => body.temperatureC }) },
});
const steinhart = { a: 1.129148e-3, b: 2.34125e-4, c: 8.76741e-8 };
const calibration = [{ ohm: 32_650, temperatureC: 0 }, { ohm: 10_000, temperatureC: 25 }, { ohm: 5_327, temperatureC: 40 }];
await check('sensor')<number>({
  quantity: 'thermistor by coefficients', unit: '°C', ...sourceOf('sensor-thermistor'), tolerance: 0.06, reason: 'ohms are stated to four figures',
  rows: rowsOf('sensor-thermistor', 'ohm', 'temperatureC'),
  ask: (ohm) => ({ input: { kind: 'thermistor', ohm, ...steinhart }, answer: (body) => body.temperatureC }),
  mistakes: { 'b and c exchanged': (ohm) => ({ input: { kind: 'thermistor', ohm, a: steinhart.a, b: steinhart.b, c: steinhart.b * 1e-3 }, answer: (body) => body.temperatureC }) },
});
await check('sensor')<number>({
  quantity: 'thermistor by three points of its table', unit: '°C', ...sourceOf('sensor-thermistor'), tolerance: 0.1, reason: 'ohms are stated to four figures; 50 °C lies ten degrees past the points',
  rows: rowsOf('sensor-thermistor', 'ohm', 'temperatureC'),
  ask: (ohm) => ({ input: { kind: 'thermistor', ohm, calibration }, answer: (body) => body.temperatureC }),
  mistakes: { 'a point two degrees off': (ohm) => ({ input: { kind: 'thermistor', ohm, calibration: calibration.map((point) => (point.temperatureC === 25 ? { ...point, temperatureC: 27 } : point)) }, answer: (body) => body.temperatureC }) },
});

// Scratchpads with the registers of datasheet table 1; check bytes worked out apart from this code.
const scratchpads = [
  ['D0 07 4B 46 7F FF 0C 10 F4', 125], ['91 01 4B 46 7F FF 0C 10 70', 25.0625], ['A2 00 4B 46 7F FF 0C 10 74', 10.125], ['08 00 4B 46 7F FF 0C 10 E2', 0.5],
  ['F8 FF 4B 46 7F FF 0C 10 C3', -0.5], ['5E FF 4B 46 7F FF 0C 10 6A', -10.125], ['6F FE 4B 46 7F FF 0C 10 E8', -25.0625], ['90 FC 4B 46 7F FF 0C 10 4F', -55],
] as const;
await check('sensor')<string>({
  quantity: 'DS18B20', unit: '°C', ...sourceOf('sensor-ds18b20'), tolerance: 0, reason: 'sixteenths are exact',
  rows: scratchpads,
  ask: (scratchpadHex) => ({ input: { kind: 'ds18b20', scratchpadHex }, answer: (body) => body.temperatureC }),
  mistakes: { 'the fraction lost': (scratchpadHex) => ({ input: { kind: 'ds18b20', scratchpadHex }, answer: (body) => Math.floor(body.temperatureC ?? Number.NaN) }) },
});

await check('recipe-check')<string>({
  quantity: 'weak end of what a recipe pours', unit: '% w/w', source: 'mass balance; published cup weights (table salt 273 g at least), NIST Handbook 44', confidence: computed, tolerance: 0.01, reason: 'stated to three figures',
  // 227 g in 3,779 g; 57.7 g a litre of 998 g; the same in 10 L by a cup of 237 mL.
  rows: [['8 oz salt, 1 US gallon of water', 5.66], ['½ cup table salt to 10 cups of water', 5.46], ['½ cup table salt to 10 litres of water', 1.35]],
  ask: (text) => ({ input: { text }, answer: (body) => body.brines[0]?.pouredPercentWw?.low }),
  mistakes: {
    'settled for poured': (text) => ({ input: { text }, answer: (body) => body.brines[0]?.settledPercentWw?.low }),
    'the strong end': (text) => ({ input: { text: text.replace('8 oz', '8.1 oz') }, answer: (body) => body.brines[0]?.pouredPercentWw?.high }),
    'any salt for table salt': (text) => ({ input: { text: text.replace('table ', '').replace('8 oz', '½ cup') }, answer: (body) => body.brines[0]?.pouredPercentWw?.low }),
  },
});

test('every calculator was compared with a stated value', () => {
  expect(calculatorNames.filter((name) => !checked.has(name))).toEqual([]);
});

test('verdicts and stages', async () => {
  // Electrode guide: an electrode with 175 mV between 7.01 and 4.01 is good; beyond ± 30 mV it is not.
  expect((await server.ask('ph-electrode', { points: buffers, temperatureC: 25 })).verdict).toBe('good');
  expect((await server.ask('ph-electrode', { points: [{ ph: 7.01, mv: 35 }, { ph: 4.01, mv: 210 }], temperatureC: 25 })).verdict).toBe('replace');
  // Handbook classes 0 to 7; the limits of the stages are an assumption.
  expect((await server.ask('maturity-index', { counts: [50, 50, 0, 0, 0, 0, 0, 0] })).stage).toBe('green');
  expect((await server.ask('maturity-index', { counts: [5, 20, 35, 20, 12, 5, 2, 1] })).stage).toBe('turning');
  expect((await server.ask('maturity-index', { counts: [0, 0, 0, 0, 10, 0, 0, 0] })).stage).toBe('black');
});

test.each([
  ['power-on', { kind: 'ds18b20', scratchpadHex: '50 05 4B 46 7F FF 0C 10 1C' }],
  ['blank-scratchpad', { kind: 'ds18b20', scratchpadHex: '00'.repeat(9) }],
  ['disconnected', { kind: 'ds18b20', scratchpadHex: 'FF:FF:FF:FF:FF:FF:FF:FF:FF' }],
  ['checksum', { kind: 'ds18b20', scratchpadHex: '91 01 4B 46 7F FF 0F 10 24' }],
  ['short', { kind: 'pt100', ohm: 0 }], ['open', { kind: 'pt100', ohm: 1e6 }],
  ['short', { kind: 'thermistor', ohm: 1, ...steinhart }], ['open', { kind: 'thermistor', ohm: 1e9, ...steinhart }],
])('a sensor at fault is no temperature but a fault: %s', async (fault, input) => {
  const body = await server.ask('sensor', input);
  expect([body.fault, 'temperatureC' in body]).toEqual([fault, false]);
  expect(body.caution).toContain('unknown');
});
