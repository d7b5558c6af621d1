import { describe, expect, test } from 'vitest';
import { acidDose } from '#domain/acid/acid-dose.ts';
import { aceticBalance } from '#domain/acid/acetic-balance.ts';
import { benchTrial, defaultTargetPh } from '#domain/acid/bench-trial.ts';
import type { BenchTrial } from '#domain/acid/bench-trial.ts';
import { calibrationAge } from '#domain/acid/calibration-age.ts';
import { defaultBufferUncertainty, phUncertainty } from '#domain/acid/ph-uncertainty.ts';
import { acidityAs, titratableAcidity } from '#domain/acid/titratable-acidity.ts';
import type { Acid, Titration } from '#domain/acid/titratable-acidity.ts';
import { dayMs } from '#domain/units/time.ts';
import { checkAccuracy } from '../helpers/accuracy.ts';
import { expectOutside, valueOf } from '../helpers/result.ts';

/** Base needed by an acid of known strength, worked out in moles: the other way round from the formula. */
const baseFor = (gPer100Ml: number, molarMass: number, sampleMl: number, normality: number): number => ((gPer100Ml / 100) * sampleMl * 1000) / molarMass / normality;
type Case = readonly [titration: Titration, acid: Acid];
checkAccuracy<Case>({
  quantity: 'titratable acidity', unit: 'g/100 mL', source: 'solutions of known strength by moles; acids of four olive brines 0.68 % lactic, 0.21 % acetic (doi 10.3389/fmicb.2021.729436)',
  confidence: 'computed from cited inputs by the cited equation', tolerance: 1e-4, reason: 'molar masses rounded to 0.01 g',
  rows: [
    [[{ baseMl: baseFor(0.68, 90.08, 10, 0.1), baseNormality: 0.1, sample: 10 }, 'lactic'], 0.68],
    [[{ baseMl: baseFor(0.21, 60.05, 10, 0.1), baseNormality: 0.1, sample: 10 }, 'acetic'], 0.21],
    [[{ baseMl: baseFor(5, 60.05, 2, 0.5), baseNormality: 0.5, sample: 2 }, 'acetic'], 5],
  ],
  actual: ([titration, acid]) => valueOf(titratableAcidity(titration, acid)),
  mistakes: {
    'the other acid': ([titration, acid]) => valueOf(titratableAcidity(titration, acid === 'acetic' ? 'lactic' : 'acetic')),
    'g/L for g/100 mL': ([titration, acid]) => 10 * valueOf(titratableAcidity(titration, acid)),
    'the base taken as 1 mol/L': ([titration, acid]) => valueOf(titratableAcidity({ ...titration, baseNormality: 1 }, acid)),
  },
});

checkAccuracy<'poured' | 'settled'>({
  quantity: 'ten parts of brine, one part of 5 % vinegar, on fruit with 0.58 parts of water per part of liquid', unit: 'g/100 mL', source: 'mass balance', confidence: 'computed from cited inputs by the cited equation',
  tolerance: 0.006, reason: 'stated to two decimals', rows: [['poured', 0.45], ['settled', 0.29]],
  actual: (when) => { const balance = valueOf(aceticBalance(10, 1000, 5, 0.58 * 11)); return when === 'poured' ? balance.pouredPercent : balance.settledPercent; },
  mistakes: { 'the fruit forgotten': () => valueOf(aceticBalance(10, 1000, 5, 0)).settledPercent, 'the vinegar not counted as liquid': () => 0.5 },
});

checkAccuracy<'acidMl' | 'aceticPercentAdded'>({
  quantity: 'a bench dose of 30 mL of 5 % vinegar in 1 L, for 20 L', unit: 'mL or g/100 mL', source: 'proportion', confidence: 'computed from cited inputs by the cited equation',
  tolerance: 1e-3, reason: 'exact', rows: [['acidMl', 600], ['aceticPercentAdded', 30 / 206]],
  actual: (what) => valueOf(acidDose(1000, 30, 20, 5))[what],
  mistakes: { 'litres for millilitres': (what) => valueOf(acidDose(1000, 30, 0.02, 5))[what], 'essence of 25 % taken for vinegar': (what) => valueOf(acidDose(1000, 30, 20, 25))[what] },
});

const jars = [{ acidMl: 0, ph: 4.9 }, { acidMl: 7, ph: 4.42 }, { acidMl: 14, ph: 4.2 }, { acidMl: 21, ph: 4.04 }, { acidMl: 28, ph: 3.95 }];
const trial: BenchTrial = { jars, jarMassG: 335, targetPh: defaultTargetPh, batchKg: 28.6 + 26.5 * 1.056 };
checkAccuracy<'jar' | 'batch'>({
  quantity: 'bench trial, five jars of 200 g fruit and 135 g brine (invented pH), target 4.1', unit: 'mL', source: 'straight line between the neighbouring doses, scaled by mass of fruit and brine', confidence: 'computed from cited inputs by the cited equation',
  tolerance: 0.5, reason: 'exact', rows: [['jar', 14 + (7 * 0.1) / 0.16], ['batch', ((14 + (7 * 0.1) / 0.16) * 56_584) / 335]],
  actual: (what) => { const dose = valueOf(benchTrial(trial)); return what === 'jar' ? dose.jarAcidMl : dose.batchAcidMl; },
  mistakes: {
    'scaled by the brine alone': (what) => { const dose = valueOf(benchTrial({ ...trial, jarMassG: 135, batchKg: 26.5 * 1.056 })); return what === 'jar' ? dose.jarAcidMl : dose.batchAcidMl; },
    'the nearest dose taken': (what) => (what === 'jar' ? 21 : (21 * 56_584) / 335),
    'aimed at the limit itself': (what) => { const dose = valueOf(benchTrial({ ...trial, targetPh: 4.3 })); return what === 'jar' ? dose.jarAcidMl : dose.batchAcidMl; },
  },
});

describe('a bench trial refuses to guess', () => {
  test('beyond the largest dose', () => expectOutside(benchTrial({ ...trial, targetPh: 3.9 }), 'targetPh'));
  test('below the smallest dose', () => expectOutside(benchTrial({ ...trial, jars: jars.slice(3) }), 'targetPh'));
  test('from one jar, or two with the same dose', () => {
    expectOutside(benchTrial({ ...trial, jars: jars.slice(0, 1) }), 'jars');
    expectOutside(benchTrial({ ...trial, jars: [...jars, { acidMl: 21, ph: 4.3 }] }), 'jars');
    expectOutside(benchTrial({ ...trial, jars: [{ acidMl: 0, ph: Number.NaN }, { acidMl: 9, ph: 4 }] }), 'jars');
  });
  test('a jar that bounces back counts: the crossing at the largest dose is taken', () => {
    const noisy = [{ acidMl: 0, ph: 4.9 }, { acidMl: 7, ph: 4.05 }, { acidMl: 14, ph: 4.2 }, { acidMl: 21, ph: 4 }];
    const dose = valueOf(benchTrial({ ...trial, jars: noisy }));
    expect(dose.jarAcidMl).toBeCloseTo(17.5, 9);
    expect(dose.between.map(({ acidMl }) => acidMl)).toEqual([14, 21]);
  });
});

describe('pH uncertainty', () => {
  const brine = { percentWw: 8, calibrationAgeDays: 0, resolution: 0.01, bufferUncertainty: defaultBufferUncertainty };
  const expanded = (change: Partial<Parameters<typeof phUncertainty>[0]>): number => valueOf(phUncertainty({ ...brine, ...change })).expanded;
  test('in 6 to 10 % brine it is a little over the ± 0.1 of the junction alone (published allowance)', () => {
    expect(expanded({})).toBeCloseTo((2 / Math.sqrt(3)) * Math.sqrt(0.1 ** 2 + 0.02 ** 2 + 0.005 ** 2), 12);
    expect(expanded({})).toBeGreaterThan(0.1);
    expect(expanded({})).toBeLessThan(0.13);
  });
  test('in water like the buffers it is about half of that', () => {
    expect(expanded({ percentWw: 0 })).toBeLessThan(0.07);
    expect(expanded({ percentWw: 0 })).toBeGreaterThan(0.05);
  });
  test('age, coarse digits, poor buffers and unknown salt each widen it', () => {
    for (const change of [{ calibrationAgeDays: 7 }, { resolution: 0.1 }, { bufferUncertainty: 0.1 }, { percentWw: null }]) expect(expanded(change)).toBeGreaterThan(expanded({}));
  });
  test('outside the valid range', () => {
    expectOutside(phUncertainty({ ...brine, calibrationAgeDays: 90 }), 'calibrationAgeDays');
    expectOutside(phUncertainty({ ...brine, percentWw: Number.NaN }), 'percentWw');
    expectOutside(phUncertainty({ ...brine, resolution: -1 }), 'resolution');
    expectOutside(phUncertainty({ ...brine, bufferUncertainty: 2 }), 'bufferUncertainty');
  });
});

test('a calibration is due after a week, the first one of an electrode after a day (common practice, no source)', () => {
  expect(calibrationAge(0, 2 * dayMs, false)).toEqual({ ageDays: 2, due: false });
  expect(calibrationAge(0, 2 * dayMs, true).due).toBe(true);
  expect(calibrationAge(0, 7 * dayMs, false).due).toBe(true);
  expect(calibrationAge(dayMs, 0, true)).toEqual({ ageDays: 0, due: false });
});

test('the same acidity as the other acid: 0.4 % lactic is 0.267 % acetic', () => {
  expect(acidityAs(0.4, 'lactic', 'acetic')).toBeCloseTo(0.2667, 4);
  expect(acidityAs(acidityAs(0.4, 'lactic', 'acetic'), 'acetic', 'lactic')).toBeCloseTo(0.4, 12);
});

test('outside the valid range', () => {
  expectOutside(titratableAcidity({ baseMl: -1, baseNormality: 0.1, sample: 10 }, 'lactic'), 'baseMl');
  expectOutside(titratableAcidity({ baseMl: 5, baseNormality: 0, sample: 10 }, 'lactic'), 'baseNormality');
  expectOutside(titratableAcidity({ baseMl: 5, baseNormality: 0.1, sample: 0 }, 'lactic'), 'sample');
  expectOutside(aceticBalance(0, 10, 5, 1), 'brineL');
  expectOutside(aceticBalance(10, 10, 100, 1), 'vinegarPercent');
  expectOutside(acidDose(0, 30, 20, 5), 'benchMl');
  expectOutside(acidDose(1000, -1, 20, 5), 'benchAcidMl');
  expectOutside(acidDose(1000, 30, Number.NaN, 5), 'brineL');
  expectOutside(acidDose(1000, 30, 20, 0), 'acidPercent');
});
