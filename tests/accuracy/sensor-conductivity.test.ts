import { expect, test } from 'vitest';
import { percentWwFrom } from '#domain/brine/bases.ts';
import { brineConductivity, salinityFromConductivity } from '#domain/sensor/conductivity.ts';
import { checkPublished, everyTableCompared, published } from '../helpers/published.ts';
import { expectOutside, valueOf } from '../helpers/result.ts';

const mSPerCm = (percentWw: number, temperatureC: number): number => 10 * valueOf(brineConductivity(percentWw, temperatureC));
const salt = (milli: number, temperatureC: number): number => valueOf(salinityFromConductivity(milli / 10, temperatureC)).percentWw;

const at20 = published('sensor-conductivity-20c');
checkPublished({
  table: at20, column: 'conductivity', input: (at) => at('percentWw'), relative: true, tolerance: 0.007, reason: 'two or three digits are printed',
  actual: (percentWw) => mSPerCm(percentWw, 20),
  mistakes: { 'proportional to the salt': (w) => 14 * w, 'a value at 25 °C': (w) => mSPerCm(w, 25) },
});
checkPublished({
  table: at20, column: 'percentWw', unit: '% w/w', input: (at) => at('conductivity'), tolerance: 0.08, reason: '0.5 mS/cm of rounding is 0.14 % at 25 %, 0.05 % at 10 %',
  actual: (milli) => salt(milli, 20),
  mistakes: { 'the sample believed to be at 25 °C': (milli) => salt(milli, 25), 'proportional to the salt': (milli) => milli / 14 },
});

// Saturated brine lies 0.9 % w/w above the range: the ratio to 20 °C of the strongest brine inside it is compared.
const saturated = published('sensor-conductivity-saturated');
checkPublished({
  table: saturated, column: 'conductivity', unit: 'share of the value at 20 °C', input: (at) => at('temperatureC'), convert: (milli) => milli / 226, tolerance: 0.003,
  reason: 'the blend with sea water at 25 % is 0.06 of the difference, at most 0.001; the cubic leaves 0.0003',
  actual: (temperatureC) => mSPerCm(25, temperatureC) / mSPerCm(25, 20),
  mistakes: { '2 % per degree': (t) => 1 + 0.02 * (t - 20), 'the ratio of sea water': (t) => mSPerCm(3.5, t) / mSPerCm(3.5, 20) },
});

checkPublished({
  table: published('sensor-conductivity-25c'), column: 'molarConductivity', input: (at) => at('molPerL'), relative: true, tolerance: 0.012, reason: 'not in the fit; 1.1 % at 0.1 mol/L, where the handbook prints two digits, 0.3 % above',
  actual: (molPerL) => mSPerCm(valueOf(percentWwFrom('g-per-l', molPerL * 58.443, 25)), 25) / molPerL,
  mistakes: { 'measured at 20 °C': (molPerL) => mSPerCm(valueOf(percentWwFrom('g-per-l', molPerL * 58.443, 25)), 20) / molPerL, 'molality for mol/L': (molality) => mSPerCm(valueOf(percentWwFrom('molality', molality, 25)), 25) / molality },
});

test('8 % brine: g/L goes with % w/w', () => {
  const { percentWw, gPerL } = valueOf(salinityFromConductivity(10.492, 20));
  expect(percentWw).toBeCloseTo(8, 2);
  expect(gPerL).toBeCloseTo(84.47, 1);
});

test('outside the valid range', () => {
  expectOutside(salinityFromConductivity(0.01, 20), 'conductivitySPerM');
  expectOutside(salinityFromConductivity(126, 20), 'conductivitySPerM');
  expectOutside(salinityFromConductivity(Number.NaN, 20), 'conductivitySPerM');
  expectOutside(salinityFromConductivity(10, 50), 'temperatureC');
  expectOutside(brineConductivity(26, 20), 'percentWw');
  expectOutside(brineConductivity(0, 20), 'percentWw');
  expectOutside(brineConductivity(8, -3), 'temperatureC');
});

// The tables of temperature sensors are compared in their own file.
everyTableCompared('sensor-conductivity', ['molPerL', 'temperatureC']);
