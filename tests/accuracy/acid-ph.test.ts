import { describe, expect, test } from 'vitest';
import { bufferPh, bufferRange, bufferSets } from '#domain/acid/buffers.ts';
import type { BufferSet } from '#domain/acid/buffers.ts';
import { calibrateElectrode } from '#domain/acid/electrode.ts';
import type { BufferPoint } from '#domain/acid/electrode.ts';
import { nernstSlopeMv } from '#domain/acid/nernst.ts';
import { phFromMv } from '#domain/acid/ph-from-mv.ts';
import { checkAccuracy } from '../helpers/accuracy.ts';
import { checkPublished, everyTableCompared, published } from '../helpers/published.ts';
import { expectOutside, valueOf } from '../helpers/result.ts';

const buffer = (set: BufferSet, temperatureC: number): number => valueOf(bufferPh(set, temperatureC));

const other: Readonly<Record<BufferSet, BufferSet>> = {
  phthalate: 'technical-4', phosphate: 'technical-7', borax: 'technical-10', 'technical-4': 'phthalate', 'technical-7': 'phosphate', 'technical-10': 'borax',
};
for (const set of bufferSets) {
  checkPublished({
    table: published(set.startsWith('technical') ? 'acid-buffers-technical' : 'acid-buffers-standard'), column: set, input: (at) => at('temperatureC'),
    tolerance: 1e-9, reason: 'the table itself, compared so that no value is mistyped',
    actual: (temperatureC) => buffer(set, temperatureC),
    mistakes: {
      'the value at 25 °C used at every temperature': () => buffer(set, 25),
      'the other set of the same nominal pH': (temperatureC) => buffer(other[set], Math.min(temperatureC, 50)),
    },
  });
}

const nbs1977 = (temperatureC: number): number => {
  const kelvin = temperatureC + 273.15;
  return 2073.44 / kelvin - 13.327 + 0.045199 * kelvin - 3.4846e-5 * kelvin * kelvin;
};
checkAccuracy<number>({
  quantity: 'phthalate buffer between the rows of its table', unit: 'pH', source: 'NBS equation of Hetzer et al. 1977, doi 10.6028/jres.081A.005', confidence: 'read in the cited source',
  tolerance: 0.008, reason: 'the table is rounded to 0.01 and straight between rows',
  rows: [2, 7.5, 12, 18, 22.5, 27, 33, 38, 45].map((temperatureC) => [temperatureC, nbs1977(temperatureC)]),
  actual: (temperatureC) => buffer('phthalate', temperatureC),
  mistakes: { 'the row above taken': (temperatureC) => buffer('phthalate', Math.min(60, temperatureC + 10)), 'the nominal 4.00': () => 4 },
});

checkPublished({
  table: published('acid-nernst'), column: 'slopeMv', input: (at) => at('temperatureC'), tolerance: 0.0006, reason: 'three decimals are stated', actual: nernstSlopeMv,
  mistakes: { 'Celsius for kelvin': (temperatureC) => nernstSlopeMv(temperatureC - 273.15), 'the slope at 25 °C': () => 59.159, 'two electrons': (temperatureC) => nernstSlopeMv(temperatureC) / 2 },
});

const printed: readonly BufferPoint[] = [{ ph: 7.01, mv: -15 }, { ph: 4.01, mv: 160 }];
checkAccuracy<'slopeMvPerPh' | 'slopePercent' | 'offsetMv'>({
  quantity: 'a printed electrode check: -15 mV at 7.01, +160 mV at 4.01', unit: 'mV or %', source: 'electrode guide (studylib 25392327), slope computed', confidence: 'computed from cited inputs by the cited equation',
  tolerance: 0.06, reason: 'one or two decimals are stated; the offset is taken at pH 7.00', rows: [['slopeMvPerPh', 58.33], ['slopePercent', 98.6], ['offsetMv', -14.42]],
  actual: (what) => valueOf(calibrateElectrode(printed, 25))[what],
  mistakes: { 'at 20 °C': (what) => valueOf(calibrateElectrode(printed, 20))[what], 'the bottles read as 7.00 and 4.00 of another set': (what) => valueOf(calibrateElectrode([{ ph: 6.86, mv: -15 }, { ph: 4.01, mv: 160 }], 25))[what] },
});

const ideal = (phs: readonly number[], temperatureC: number, share = 1): BufferPoint[] => phs.map((ph) => ({ ph, mv: (7 - ph) * nernstSlopeMv(temperatureC) * share }));
const read = (mv: number, points: readonly BufferPoint[], calibrationC: number, sampleC: number): number => valueOf(phFromMv(mv, points, calibrationC, sampleC));
type Meter = 'right' | '90 % electrode, one-point calibrated' | 'no compensation at 10 °C' | 'no compensation at 30 °C' | 'spoiled 4.01 that is 4.15';
const meter = (what: Meter): number => {
  const mv = (sampleC: number, share = 1): number => (7 - 4.3) * nernstSlopeMv(sampleC) * share;
  switch (what) {
    case 'right': return read(mv(10), ideal([7, 4.01], 25), 25, 10);
    case '90 % electrode, one-point calibrated': return read(mv(25, 0.9), ideal([7, 4.01], 25), 25, 25);
    case 'no compensation at 10 °C': return read(mv(10), ideal([7, 4.01], 25), 25, 25);
    case 'no compensation at 30 °C': return read(mv(30), ideal([7, 4.01], 25), 25, 25);
    case 'spoiled 4.01 that is 4.15': return read(mv(25), [{ ph: 7, mv: 0 }, { ph: 4.01, mv: (7 - 4.15) * nernstSlopeMv(25) }], 25, 25);
  }
};
checkAccuracy<Meter>({
  quantity: 'what a meter shows for a true 4.30', unit: 'pH', source: 'Nernst equation', confidence: 'computed from cited inputs by the cited equation',
  tolerance: 0.006, reason: 'stated to two decimals',
  rows: [['right', 4.3], ['90 % electrode, one-point calibrated', 4.57], ['no compensation at 10 °C', 4.44], ['no compensation at 30 °C', 4.25], ['spoiled 4.01 that is 4.15', 4.17]],
  actual: meter,
  mistakes: { 'every meter is right': () => 4.3, 'compensation turned round': (what) => (what === 'right' ? read((7 - 4.3) * nernstSlopeMv(10), ideal([7, 4.01], 25), 10, 25) : meter(what)) },
});

describe('verdict on an electrode', () => {
  test.each([
    [ideal([7, 4], 25), 'good'], [printed, 'good'], [ideal([7, 4], 25, 0.955), 'good'], [ideal([7, 4], 25, 0.93), 'check'], [ideal([7, 4], 25, 1.04), 'check'],
    [ideal([7, 4], 25, 0.84), 'replace'], [ideal([7, 4], 25, 1.06), 'replace'], [ideal([7, 4], 25).map(({ ph, mv }) => ({ ph, mv: mv + 31 })), 'replace'],
    [ideal([7, 4], 25).map(({ ph, mv }) => ({ ph, mv: mv - 29 })), 'good'],
  ] as const)('electrode %#: %s', (points, verdict) => expect(valueOf(calibrateElectrode(points, 25)).verdict).toBe(verdict));

  test('three buffers on one line agree with two, and one that is spoiled shows', () => {
    const three = valueOf(calibrateElectrode(ideal([4.01, 7, 9.18], 20, 0.98), 20));
    expect(three.slopePercent).toBeCloseTo(98, 9);
    expect(three.worstResidualPh).toBeLessThan(1e-12);
    const spoiled = valueOf(calibrateElectrode(ideal([4.01, 7, 9.18], 20, 0.98).map((point) => (point.ph === 9.18 ? { ...point, mv: point.mv + 12 } : point)), 20));
    expect(spoiled.worstResidualPh).toBeGreaterThan(0.05);
    expect(spoiled.verdict).toBe('check');
  });
});

describe('outside the valid range', () => {
  const points = ideal([7, 4], 25);
  test.each([
    [calibrateElectrode([], 25), 'points'], [calibrateElectrode(points.slice(1), 25), 'points'], [calibrateElectrode([{ ph: 7, mv: 0 }, { ph: 6.5, mv: 30 }], 25), 'points'],
    [calibrateElectrode([{ ph: 7, mv: 0 }, { ph: 4, mv: -170 }], 25), 'points'], [calibrateElectrode([{ ph: 7, mv: 0 }, { ph: 4, mv: 0 }], 25), 'points'],
    [calibrateElectrode([{ ph: 7, mv: Number.NaN }, { ph: 4, mv: 170 }], 25), 'points'], [calibrateElectrode(points, 90), 'temperatureC'],
    [phFromMv(5000, points, 25, 25), 'mv'], [phFromMv(900, points, 25, 25), 'mv'], [phFromMv(100, points, -5, 25), 'calibrationC'], [phFromMv(100, points, 25, Number.NaN), 'temperatureC'],
    [phFromMv(100, [], 25, 25), 'points'], [bufferPh('technical-7', 55), 'temperatureC'], [bufferPh('borax', -1), 'temperatureC'], [bufferPh('borax', 61), 'temperatureC'],
  ] as const)('case %# is refused by name', (result, field) => expectOutside(result, field));
  test('the ends of each buffer table belong to it', () => {
    for (const set of bufferSets) for (const at of [0, bufferRange(set).temperatureC.high]) expect(bufferPh(set, at).ok).toBe(true);
  });
});

everyTableCompared('acid', ['temperatureC']);
