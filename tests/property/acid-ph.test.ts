import fc from 'fast-check';
import { expect, test } from 'vitest';
import { aceticBalance } from '#domain/acid/acetic-balance.ts';
import { benchTrial } from '#domain/acid/bench-trial.ts';
import { calibrateElectrode } from '#domain/acid/electrode.ts';
import { nernstSlopeMv } from '#domain/acid/nernst.ts';
import { phFromMv } from '#domain/acid/ph-from-mv.ts';
import { isSound, valueOf } from '../helpers/result.ts';

const seed = 20260404;
const between = (min: number, max: number): fc.Arbitrary<number> => fc.double({ min, max, noNaN: true });
const electrode = fc.record({ slope: between(0.86, 1.04), offset: between(-29, 29), calibrationC: between(0, 50) });

test('a buffer read back with its own calibration gives its own pH, for any electrode', () => {
  fc.assert(
    fc.property(electrode, between(3, 9), between(0, 50), ({ slope, offset, calibrationC }, ph, sampleC) => {
      const mv = (at: number, temperatureC: number): number => offset + slope * nernstSlopeMv(temperatureC) * (7 - at);
      const points = [4.01, 7].map((at) => ({ ph: at, mv: mv(at, calibrationC) }));
      expect(valueOf(phFromMv(mv(ph, sampleC), points, calibrationC, sampleC))).toBeCloseTo(ph, 8);
      const calibration = valueOf(calibrateElectrode(points, calibrationC));
      expect(calibration.slopePercent).toBeCloseTo(100 * slope, 8);
      expect(calibration.offsetMv).toBeCloseTo(offset, 8);
    }),
    { seed, numRuns: 300 },
  );
});

test('more millivolts are always more acid', () => {
  fc.assert(
    fc.property(between(-200, 200), between(0.1, 50), between(0, 50), (mv, more, temperatureC) => {
      const points = [{ ph: 7, mv: -3 }, { ph: 4, mv: 170 }];
      expect(valueOf(phFromMv(mv + more, points, 25, temperatureC))).toBeLessThan(valueOf(phFromMv(mv, points, 25, temperatureC)));
    }),
    { seed, numRuns: 200 },
  );
});

test('acid is neither made nor lost when it spreads into the fruit', () => {
  fc.assert(
    fc.property(between(1, 100), between(0, 5000), between(1, 25), between(0, 100), (brineL, vinegarMl, percent, fleshWaterL) => {
      const { aceticG, pouredPercent, settledPercent } = valueOf(aceticBalance(brineL, vinegarMl, percent, fleshWaterL));
      expect(pouredPercent * 10 * (brineL + vinegarMl / 1000)).toBeCloseTo(aceticG, 6);
      expect(settledPercent * 10 * (brineL + vinegarMl / 1000 + fleshWaterL)).toBeCloseTo(aceticG, 6);
    }),
    { seed, numRuns: 200 },
  );
});

test('a bench dose lies between the two jars it names, and no jar above it was over the target', () => {
  const jars = fc.uniqueArray(fc.record({ acidMl: fc.integer({ min: 0, max: 100 }), ph: between(3.5, 5.5) }), { minLength: 2, maxLength: 6, selector: ({ acidMl }) => acidMl });
  fc.assert(
    fc.property(jars, (tried) => {
      const dose = benchTrial({ jars: tried, jarMassG: 335, targetPh: 4.1, batchKg: 50 });
      expect(isSound(dose)).toBe(true);
      if (!dose.ok) return;
      const { jarAcidMl, between: [above, below], batchAcidMl } = dose.value;
      expect(jarAcidMl).toBeGreaterThan(above.acidMl);
      expect(jarAcidMl).toBeLessThanOrEqual(below.acidMl);
      expect(tried.filter(({ acidMl, ph }) => acidMl >= jarAcidMl && ph > 4.1)).toEqual([]);
      expect(batchAcidMl / jarAcidMl).toBeCloseTo(50_000 / 335, 8);
    }),
    { seed, numRuns: 300 },
  );
});
