import { expect, test } from 'vitest';
import { jarGate } from '#domain/jar/jar-gate.ts';
import { jarUncertainty } from '#domain/jar/jar-uncertainty.ts';
import { checkAccuracy } from '../helpers/accuracy.ts';
import { goodMeter, settledJars } from '../helpers/jars.ts';

/** Terms worked out apart from the code: u = a/√3; Nernst: ΔpH = |7 - pH|·ΔT/T. */
const root3 = Math.sqrt(3);
const terms = {
  buffer: 0.02 / root3,
  slope: (0.02 * (4.12 - 4.01)) / root3,
  temperature: ((7 - 4.12) * 2) / (293.15 * root3),
};

checkAccuracy<'mean' | 'uncertainty' | 'margin'>({
  quantity: 'two packed jars at 4.12 against the limit of 4.30 (CXS 66-1981)',
  unit: 'pH',
  source: 'U = 1.65·√(u_buffer² + u_slope² + u_temp² + s²/n) + 0.1, stated as "4.12 ± 0.13, inside by 0.05"',
  confidence: 'computed from cited inputs by the cited equation',
  tolerance: 0.005,
  reason: 'stated to 0.01',
  rows: [['mean', 4.12], ['uncertainty', 0.13], ['margin', 0.05]],
  actual: (what) => {
    const { mean, uncertainty, margin } = jarGate({ packedAt: 0, readings: settledJars(4.12) });
    return { mean, uncertainty: uncertainty?.expanded, margin }[what] ?? Number.NaN;
  },
  mistakes: {
    'the salt allowance forgotten': (what) => ({ mean: 4.12, uncertainty: 0.027, margin: 0.153 })[what],
    'half-widths taken for standard uncertainties': (what) => (what === 'uncertainty' ? 1.65 * Math.hypot(0.02, 0.0022, 0.0197) + 0.1 : what === 'mean' ? 4.12 : 0.05),
    'the limit of 4.6': (what) => ({ mean: 4.12, uncertainty: 0.13, margin: 0.353 })[what],
  },
});

checkAccuracy<readonly number[]>({
  quantity: 'uncertainty of the mean of jars that differ',
  unit: 'pH',
  source: 'the same equation with s of the jars by hand',
  confidence: 'computed from cited inputs by the cited equation',
  tolerance: 1e-9,
  reason: 'exact',
  // s of 4.02 and 4.22 is 0.2/√2; of 4.02, 4.12, 4.22 it is 0.1. Slope and temperature are taken where they are worst.
  rows: [
    [[4.02, 4.22], 1.65 * Math.hypot(terms.buffer, (0.02 * 0.21) / root3, (2.98 * 2) / (293.15 * root3), 0.2 / Math.SQRT2 / Math.SQRT2) + 0.1],
    [[4.02, 4.12, 4.22], 1.65 * Math.hypot(terms.buffer, (0.02 * 0.21) / root3, (2.98 * 2) / (293.15 * root3), 0.1 / root3) + 0.1],
  ],
  actual: (phs) => jarUncertainty(phs, [goodMeter]).expanded,
  mistakes: {
    's not divided by √n': () => 1.65 * Math.hypot(terms.buffer, terms.slope, terms.temperature, 0.1) + 0.1,
    'meter errors averaged over the jars': (phs) => 1.65 * (Math.hypot(terms.buffer, terms.slope, terms.temperature) / Math.sqrt(phs.length)) + 0.1,
  },
});

test('a true 4.30 reads 4.57 on an electrode of 90 % slope calibrated in 7 alone (Nernst): the slope term is as large', () => {
  // 7 - 2.7 · 0.9 = 4.57.
  const { slope } = jarUncertainty([4.3], [{ ...goodMeter, nearestBufferPh: 7, slopeHalfWidth: 0.1 }]);
  expect(slope * root3).toBeCloseTo(0.27, 6);
});

test('a true 4.30 at 10 °C reads 4.44 on a meter left at 25 °C (Nernst): the temperature term is as large', () => {
  const { temperature } = jarUncertainty([4.3], [{ ...goodMeter, temperatureHalfWidthC: 15, sampleC: 25 }]);
  expect(temperature * root3).toBeCloseTo(0.136, 3);
});
