import { describe, expect, test } from 'vitest';
import { brineBases, brineStrength, convertBrine, percentWwFrom } from '#domain/brine/bases.ts';
import { brineDensity, densityInRange } from '#domain/brine/density.ts';
import { readHydrometer } from '#domain/brine/hydrometer.ts';
import { percentWwFromSalometer } from '#domain/brine/salometer.ts';
import { osmoticCoefficient, waterActivity } from '#domain/brine/water-activity.ts';
import { waterDensity } from '#domain/brine/water-density.ts';
import { poundG, usGallonL } from '#domain/units/kitchen.ts';
import { checkAccuracy } from '../helpers/accuracy.ts';
import { checkPublished, everyTableCompared, published } from '../helpers/published.ts';
import { expectOutside, valueOf } from '../helpers/result.ts';

const density = (percentWw: number, temperatureC: number): number => valueOf(brineDensity(percentWw, temperatureC));
const oldMillilitre = (gPerMl: number): number => gPerMl * 999.972;

const grid = published('brine-density-grid');
for (const temperatureC of [0, 10, 20, 25, 30, 40]) {
  checkPublished({
    table: grid, column: `${temperatureC} °C`, unit: 'kg/m³', input: (at) => at('percentWw'), convert: oldMillilitre,
    tolerance: 0.25, reason: 'the equation was fitted to these values; 0.8 kg/m³ is a tenth of a per cent of salt',
    actual: (percentWw) => density(percentWw, temperatureC),
    mistakes: {
      'g per 100 g water taken for % w/w': (percentWw) => density((100 * percentWw) / (100 + percentWw), temperatureC),
      'the rule of thumb 1000 + 7 times the per cent': (percentWw) => 1000 + 7 * percentWw,
      'five degrees off': (percentWw) => density(percentWw, temperatureC > 20 ? temperatureC - 5 : temperatureC + 5),
    },
  });
}

const saturated = published('brine-density-saturated');
checkPublished<readonly [number, number]>({
  table: saturated, column: 'density', unit: 'kg/m³', input: (at) => [at('percentWw'), at('temperatureC')], convert: oldMillilitre,
  tolerance: 1, reason: 'not in the fit, and the table does not continue its own columns better than this',
  actual: ([percentWw, temperatureC]) => densityInRange(percentWw, temperatureC),
  mistakes: { 'saturation at 25 % w/w': ([, temperatureC]) => density(25, temperatureC) },
});

const at20 = published('brine-density-20c');
checkPublished({
  table: at20, column: 'densityKgPerM3', unit: 'kg/m³', input: (at) => at('percentWw'),
  tolerance: 0.4, reason: 'an independent print of the handbook values; its 2 % row (1012.2) is 0.26 below the other print',
  actual: (percentWw) => density(percentWw, 20), mistakes: { 'the temperature coefficient ignored': (percentWw) => density(percentWw, 10) },
});
checkPublished({
  table: at20, column: 'fallPerC', unit: 'kg/m³ per °C', input: (at) => at('percentWw'),
  tolerance: 0.02, reason: 'two decimals are printed and the slope was averaged over an unstated range',
  actual: (percentWw) => (density(percentWw, 10) - density(percentWw, 30)) / 20,
  mistakes: { 'the sign turned': (percentWw) => (density(percentWw, 30) - density(percentWw, 10)) / 20, 'water only': () => (waterDensity(10) - waterDensity(30)) / 20 },
});
checkPublished({
  table: at20, column: 'gPerL', unit: 'g/L', input: (at) => at('percentWw'),
  tolerance: 0.05, reason: '0.25 kg/m³ times at most 0.26',
  actual: (percentWw) => valueOf(brineStrength(percentWw, 20)).gPerL,
  mistakes: { 'one litre weighs one kilogram': (percentWw) => 10 * percentWw },
});
checkPublished({
  table: at20, column: 'molPerL', unit: 'mol/L', input: (at) => at('percentWw'),
  tolerance: 0.001, reason: 'rounded molar masses (58.44 and 58.45) are in use',
  actual: (percentWw) => valueOf(brineStrength(percentWw, 20)).gPerL / 58.443,
  mistakes: { 'molality instead': (percentWw) => valueOf(brineStrength(percentWw, 20)).molality },
});

const salometer = published('brine-salometer');
checkPublished({
  table: salometer, column: 'percentWw', unit: '% w/w', input: (at) => at('degrees'),
  tolerance: 0.0006, reason: 'exact by definition, printed to three decimals',
  actual: (degrees) => valueOf(percentWwFrom('salometer', degrees, 15.6)), mistakes: { 'the 25 % scale': (degrees) => percentWwFromSalometer(degrees, 25) },
});
const sixtyF = (60 - 32) / 1.8;
checkPublished({
  table: salometer, column: 'specificGravity60F', unit: '', confidence: 'from memory', input: (at) => at('percentWw'),
  tolerance: 0.0006, reason: 'printed to three decimals',
  actual: (percentWw) => density(percentWw, sixtyF) / waterDensity(sixtyF),
  mistakes: { 'against water at 4 °C, brine at 20 °C': (percentWw) => density(percentWw, 20) / 1000 },
});
checkPublished({
  table: salometer, column: 'lbPerUsGallon', unit: 'lb', confidence: 'from memory', input: (at) => at('percentWw'),
  tolerance: 0.005, reason: 'printed to three decimals from rounded densities',
  actual: (percentWw) => (valueOf(brineStrength(percentWw, sixtyF)).gPerL * usGallonL) / poundG,
  mistakes: { 'the imperial gallon': (percentWw) => (valueOf(brineStrength(percentWw, sixtyF)).gPerL * 4.54609) / poundG },
});

const robinsonStokes = published('brine-water-activity');
checkPublished({
  table: robinsonStokes, column: 'osmoticCoefficient', unit: '', input: (at) => at('molality'),
  tolerance: 0.003, reason: 'stated standard deviation of the equation is 0.001, worst at 2.5 and 6 mol/kg',
  actual: osmoticCoefficient, mistakes: { 'an ideal solution': () => 1, 'the third virial term forgotten': (m) => osmoticCoefficient(m) - m * m * 0.00127 },
});
checkPublished({
  table: robinsonStokes, column: 'waterActivity', unit: '', input: (at) => at('molality'),
  tolerance: 0.0005, reason: 'what the coefficient leaves, 0.0004 at 6 mol/kg; a tenth of what a limit of 0.935 needs',
  actual: waterActivity, mistakes: { 'an ideal solution': (m) => Math.exp(-2 * 0.018015 * m), 'one ion instead of two': (m) => Math.sqrt(waterActivity(m)) },
});
checkPublished({
  table: published('brine-water-activity-food'), column: 'waterActivity', unit: '', input: (at) => at('gPer100GWater'),
  tolerance: 0.004, reason: 'the table prints two decimals',
  actual: (grams) => valueOf(convertBrine('g-per-100g-water', grams, 25)).waterActivity,
  mistakes: { 'read as % w/w': (grams) => valueOf(convertBrine('percent-ww', grams, 25)).waterActivity },
});

checkAccuracy<readonly [reading: number, sampleC: number]>({
  quantity: 'hydrometer of a 20 °C scale in a cold and a warm shed', unit: '% w/w', source: 'Poradnik 1974 and Perry: the density of 8, 12 and 20 % brine off the scale temperature',
  confidence: 'read in a second copy of the source', tolerance: 0.08, reason: '0.8 kg/m³ is 0.11 %; the glass itself accounts for 0.05',
  rows: [[[1055.9, 20], 8], [[1059.1, 10], 8], [[1083.65, 25], 12], [[1076.99, 40], 12], [[1156.63, 0], 20]],
  actual: ([densityKgPerM3, sampleC]) => valueOf(readHydrometer({ densityKgPerM3, sampleC, calibratedAtC: 20 })).percentWw,
  mistakes: {
    'the sample temperature forgotten': ([densityKgPerM3]) => valueOf(readHydrometer({ densityKgPerM3, sampleC: 20, calibratedAtC: 20 })).percentWw,
    'corrected the wrong way': ([densityKgPerM3, sampleC]) => valueOf(readHydrometer({ densityKgPerM3, sampleC: 40 - sampleC, calibratedAtC: 20 })).percentWw,
  },
});

checkAccuracy<number>({
  quantity: 'hydrometer marked in specific gravity, 60/60 °F, read at 60 °F', unit: '% w/w', source: 'salometer rows of the handbooks',
  confidence: 'from memory', tolerance: 0.08, reason: 'a gravity printed to three decimals is good to 0.07 %',
  rows: [[1.019, 2.64], [1.038, 5.279], [1.118, 15.837], [1.182, 23.756]],
  actual: (specificGravity) => valueOf(readHydrometer({ specificGravity, sampleC: sixtyF, calibratedAtC: sixtyF })).percentWw,
  mistakes: { 'taken for g/mL': (gravity) => valueOf(percentWwFrom('density', gravity * 1000, sixtyF)) },
});

describe('second opinions on the density equation', () => {
  // Laliberté and Cooper 2004, J. Chem. Eng. Data 49, 1141 (form and coefficients from memory).
  const laliberteCooper = (w: number, t: number): number => {
    const apparent = ((-0.00433 * w + 0.06471) * Math.exp(1e-6 * (t + 3315.6) ** 2)) / (w + 1.0166 + 0.014624 * t);
    return 1 / ((1 - w) / waterDensity(t) + w / apparent);
  };
  // Simion et al. 2015, polynomial in % w/w and kelvin (read in several public copies).
  const simion = (w: number, t: number): number => {
    const [p, k] = [100 * w, t + 273.15];
    return 750.2834 + 26.7822 * p - 0.26389 * p * p + (1.90165 - 0.11734 * p + 0.00175 * p * p) * k + (-0.003604 + 0.0001701 * p - 0.00000261 * p * p) * k * k;
  };
  test.each([['Laliberté and Cooper 2004', laliberteCooper], ['Simion 2015', simion]] as const)('%s stays within 1.2 kg/m³ everywhere', (_name, other) => {
    let worst = 0;
    for (let w = 0; w <= 26; w += 0.5) {
      for (let t = 0; t <= 40; t += 2) worst = Math.max(worst, Math.abs(other(w / 100, t) - density(w, t)));
    }
    expect(worst).toBeLessThan(1.2);
    expect(worst).toBeGreaterThan(0.2);
  });
});

checkAccuracy<number>({
  quantity: 'density of water', unit: 'kg/m³', source: 'Kell 1975 and the water column of the CRC Handbook', confidence: 'from memory', tolerance: 0.01, reason: 'two decimals are printed',
  rows: [[0, 999.84], [4, 999.97], [10, 999.7], [20, 998.2], [25, 997.05], [30, 995.65], [40, 992.22]],
  actual: waterDensity,
  mistakes: { 'two digits of the divisor exchanged, as some copies have it': (t) => (waterDensity(t) * (1 + 16.87985e-3 * t)) / (1 + 16.89785e-3 * t), 'always 1000': () => 1000 },
});

test('a hydrometer in plain water at its own temperature reads 1.000 and no salt', () => {
  for (const t of [0, 15.56, 20, 25, 40]) expect(valueOf(readHydrometer({ specificGravity: 1, sampleC: t, calibratedAtC: t })).percentWw).toBeCloseTo(0, 9);
});

describe('outside the valid range', () => {
  test.each([[-0.1, 20], [27, 20], [Number.NaN, 20], [Infinity, 20]])('strength %d is refused by name', (percentWw, temperatureC) => {
    expectOutside(brineDensity(percentWw, temperatureC), 'percentWw');
    expectOutside(brineStrength(percentWw, temperatureC), 'percentWw');
    for (const basis of brineBases) {
      if (basis === 'density') continue;
      expectOutside(convertBrine(basis, percentWw * 15, temperatureC), 'value');
    }
  });
  test.each([-1, 41, Number.NaN])('temperature %d is refused by name', (temperatureC) => {
    expectOutside(brineDensity(5, temperatureC), 'temperatureC');
    expectOutside(convertBrine('g-per-l', 50, temperatureC), 'temperatureC');
  });
  test('a density below plain water, or above saturation, is no brine', () => {
    expectOutside(convertBrine('density', 990, 20), 'value');
    expectOutside(convertBrine('density', 1250, 20), 'value');
    expectOutside(readHydrometer({ densityKgPerM3: 990, sampleC: 20, calibratedAtC: 20 }), 'densityKgPerM3');
    expectOutside(readHydrometer({ specificGravity: 1.4, sampleC: 20, calibratedAtC: 20 }), 'specificGravity');
    expectOutside(readHydrometer({ specificGravity: 1.05, sampleC: 60, calibratedAtC: 20 }), 'sampleC');
  });
});

everyTableCompared('brine', ['percentWw', 'temperatureC', 'degrees', 'molality', 'gPer100GWater']);
