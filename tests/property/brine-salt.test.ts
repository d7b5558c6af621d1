import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { SaltState } from '#domain/brine/salt-change.ts';
import { blend } from '#domain/brine/blend.ts';
import { brineMix } from '#domain/brine/brine-mix.ts';
import { densityInRange } from '#domain/brine/density.ts';
import { changeSaltBrine, settledSalt, takeUpSalt } from '#domain/brine/salt-change.ts';
import { saltByCup } from '#domain/brine/salt-by-cup.ts';
import { saltKinds } from '#domain/brine/salt-kind.ts';
import { saltEquilibrium } from '#domain/brine/salt-equilibrium.ts';
import { pouredPercentWwFor, settledPercentWw } from '#domain/brine/settled-strength.ts';
import { waterDensity } from '#domain/brine/water-density.ts';
import { isSound, valueOf } from '../helpers/result.ts';

const seed = 20260403;
const between = (min: number, max: number): fc.Arbitrary<number> => fc.double({ min, max, noNaN: true });
const state: fc.Arbitrary<SaltState> = fc.record({ fleshGPerL: between(0, 300), brineGPerL: between(0, 300) });
const total = ({ fleshGPerL, brineGPerL }: SaltState, ratio: number): number => fleshGPerL + ratio * brineGPerL;

test('salt moving between brine and flesh is neither made nor lost, and never overshoots', () => {
  fc.assert(
    fc.property(state, between(0, 50), between(0.1, 20), (before, rateDays, ratio) => {
      const after = takeUpSalt(before, rateDays, ratio);
      expect(total(after, ratio)).toBeCloseTo(total(before, ratio), 6);
      const settled = settledSalt(before, ratio);
      expect(Math.sign(after.fleshGPerL - settled) * Math.sign(before.fleshGPerL - settled)).toBeGreaterThanOrEqual(0);
    }),
    { seed, numRuns: 400 },
  );
});

test('two half intervals are one whole interval', () => {
  fc.assert(
    fc.property(state, between(0, 10), between(0.1, 20), (before, rateDays, ratio) => {
      const once = takeUpSalt(before, rateDays, ratio);
      const twice = takeUpSalt(takeUpSalt(before, rateDays * 0.3, ratio), rateDays * 0.7, ratio);
      expect(twice.fleshGPerL).toBeCloseTo(once.fleshGPerL, 8);
      expect(twice.brineGPerL).toBeCloseTo(once.brineGPerL, 8);
    }),
    { seed, numRuns: 200 },
  );
});

test('over any run of changes: salt in the drum is what was poured less what was thrown away', () => {
  const change = fc.record({ rateDays: between(0, 3), newGPerL: between(0, 250), fraction: between(0, 1) });
  fc.assert(
    fc.property(state, between(0.2, 5), fc.array(change, { maxLength: 12 }), (start, ratio, changes) => {
      let now = start;
      let balance = total(start, ratio);
      for (const { rateDays, newGPerL, fraction } of changes) {
        const before = takeUpSalt(now, rateDays, ratio);
        balance += ratio * fraction * (newGPerL - before.brineGPerL);
        now = changeSaltBrine(before, newGPerL, fraction);
      }
      expect(total(now, ratio)).toBeCloseTo(balance, 5);
    }),
    { seed, numRuns: 300 },
  );
});

test('pouring together keeps the salt; the blend lies between its parts', () => {
  const portion = fc.record({ volumeL: between(0.1, 200), percentWw: between(0, 26) });
  fc.assert(
    fc.property(fc.array(portion, { minLength: 1, maxLength: 5 }), between(0, 40), (portions, temperatureC) => {
      const together = valueOf(blend(portions, temperatureC));
      const saltG = portions.reduce((sum, one) => sum + valueOf(blend([one], temperatureC)).saltG, 0);
      expect(together.saltG / saltG || 1).toBeCloseTo(1, 10);
      const strengths = portions.map(({ percentWw }) => percentWw);
      expect(together.percentWw).toBeGreaterThanOrEqual(Math.min(...strengths) - 1e-9);
      expect(together.percentWw).toBeLessThanOrEqual(Math.max(...strengths) + 1e-9);
    }),
    { seed, numRuns: 300 },
  );
});

test('a mix made as told has the strength and volume asked for', () => {
  fc.assert(
    fc.property(between(0.1, 500), between(0, 26.5), between(0, 40), (brineL, target, temperatureC) => {
      const { saltG, waterL } = valueOf(brineMix(brineL, target, temperatureC));
      const waterG = waterL * waterDensity(temperatureC);
      expect(saltG + waterG).toBeCloseTo(brineL * densityInRange(target, temperatureC), 6);
      expect((100 * saltG) / (saltG + waterG)).toBeCloseTo(target, 9);
    }),
    { seed, numRuns: 200 },
  );
});

test('the strength to pour for a target settles at that target', () => {
  fc.assert(
    fc.property(between(0, 8), between(5, 100), between(0.1, 1), between(0, 40), (target, volumeL, share, temperatureC) => {
      const poured = valueOf(pouredPercentWwFor(target, volumeL, share * volumeL, temperatureC));
      expect(poured).toBeGreaterThanOrEqual(target - 1e-9);
      expect(valueOf(settledPercentWw({ volumeL, percentWw: poured }, share * volumeL, temperatureC))).toBeCloseTo(target, 8);
    }),
    { seed, numRuns: 300 },
  );
});

test('the brine for a target, poured, settles at the target; so does the dry top-up', () => {
  const fruit = fc.record({ fruitKg: between(1, 100), stoneFraction: between(0.1, 0.3), fleshMoisture: between(0.5, 0.8), brineL: between(1, 100), brineGPerL: between(0, 200), targetGPerL: between(0, 100) });
  fc.assert(
    fc.property(fruit, (input) => {
      const answer = saltEquilibrium(input);
      expect(isSound(answer)).toBe(true);
      if (!answer.ok) return;
      const { fleshWaterL, equilibriumGPerL, brineForTargetGPerL = Number.NaN, dryTopUpG } = answer.value;
      expect((brineForTargetGPerL * input.brineL) / (fleshWaterL + input.brineL)).toBeCloseTo(input.targetGPerL, 8);
      expect(equilibriumGPerL + (dryTopUpG ?? 0) / (fleshWaterL + input.brineL)).toBeGreaterThanOrEqual(input.targetGPerL - 1e-8);
    }),
    { seed, numRuns: 300 },
  );
});

test('by the cup: more cups are stronger, and the middle lies in its spread', () => {
  fc.assert(
    fc.property(fc.constantFrom(...saltKinds), between(0.1, 3), between(4, 20), (kind, cups, waterL) => {
      const { percentWw } = valueOf(saltByCup(cups, kind, waterL));
      expect(percentWw.low).toBeLessThan(percentWw.value);
      expect(percentWw.high).toBeGreaterThan(percentWw.value);
      expect(valueOf(saltByCup(cups + 0.1, kind, waterL)).percentWw.value).toBeGreaterThan(percentWw.value);
    }),
    { seed, numRuns: 200 },
  );
});
