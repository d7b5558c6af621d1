import fc from 'fast-check';
import { expect, test } from 'vitest';
import { changeBrine, leach } from '#domain/cure/leaching.ts';
import { courseAt } from '#domain/cure/leaching-course.ts';
import { temperatureDose } from '#domain/cure/temperature-dose.ts';
import { dayMs } from '#domain/units/time.ts';
import { steadyCourse } from '../helpers/cures.ts';

const seeded = { seed: 20260420, numRuns: 300 };
const between = (min: number, max: number): fc.Arbitrary<number> => fc.double({ min, max, noNaN: true });
const ratio = between(0.2, 20);
const bitter = fc.record({ flesh: between(0, 1), brine: between(0, 1) });
const changeDays = fc.uniqueArray(fc.integer({ min: 1, max: 60 }), { maxLength: 12 }).map((days) => days.toSorted((a, b) => a - b));

test('what leaves the flesh is in the brine as long as nothing is broken down', () => {
  fc.assert(fc.property(bitter, between(0, 50), ratio, (from, leaching, r) => {
    const to = leach(from, leaching, 0, r);
    expect(to.flesh + r * to.brine).toBeCloseTo(from.flesh + r * from.brine, 9);
  }), seeded);
});

test('what is broken down is lost from the whole in the same measure, however it is shared', () => {
  fc.assert(fc.property(bitter, between(0, 50), between(0, 5), ratio, (from, leaching, hydrolysis, r) => {
    const to = leach(from, leaching, hydrolysis, r);
    expect(to.flesh + r * to.brine).toBeCloseTo(Math.exp(-hydrolysis) * (from.flesh + r * from.brine), 9);
  }), seeded);
});

test('two steps are one step: where a stretch is split does not matter', () => {
  fc.assert(fc.property(bitter, between(0, 5), between(0, 5), between(0, 1), between(0, 1), ratio, (from, a, b, h1, h2, r) => {
    const split = leach(leach(from, a, h1, r), b, h2, r);
    const whole = leach(from, a + b, h1 + h2, r);
    expect(split.flesh).toBeCloseTo(whole.flesh, 10);
    expect(split.brine).toBeCloseTo(whole.brine, 10);
  }), seeded);
});

test('the exact step agrees with the equations solved in small steps', () => {
  fc.assert(fc.property(bitter, between(0, 2), between(0, 0.5), between(0.5, 4), (from, leaching, hydrolysis, r) => {
    const steps = 4_000;
    let { flesh, brine } = from;
    for (let i = 0; i < steps; i++) {
      const across = (leaching / steps) * (flesh - brine);
      [flesh, brine] = [flesh - across - (hydrolysis / steps) * flesh, brine + across / r - (hydrolysis / steps) * brine];
    }
    const exact = leach(from, leaching, hydrolysis, r);
    expect(Math.abs(exact.flesh - flesh)).toBeLessThan(2e-3);
    expect(Math.abs(exact.brine - brine)).toBeLessThan(2e-3);
  }), { ...seeded, numRuns: 50 });
});

test('warmer never leaves more bitterness at the end', () => {
  fc.assert(fc.property(between(2, 38), between(0, 5), changeDays, between(0.5, 4), (temperatureC, warmer, days, r) => {
    const fleshAt = (at: number): number => courseAt(steadyCourse({ cut: 'slit', temperatureC: at, changeDays: days, ratio: r, startingFlesh: 1 }), [60 * dayMs])[0]?.flesh as number;
    expect(fleshAt(temperatureC + warmer)).toBeLessThanOrEqual(fleshAt(temperatureC) + 1e-12);
  }), seeded);
});

test('one more change, or a larger one, never leaves more bitterness', () => {
  fc.assert(fc.property(changeDays, fc.nat(59), between(0, 1), between(0, 1), ratio, (days, extra, fraction, larger, r) => {
    const base = steadyCourse({ cut: 'cracked', temperatureC: 15, changeDays: days, ratio: r, startingFlesh: 1 });
    const fleshWith = (share: number): number => {
      const changes = [...base.changes, { at: (extra + 0.5) * dayMs, fraction: share }].toSorted((a, b) => a.at - b.at);
      return courseAt({ ...base, changes }, [60 * dayMs])[0]?.flesh as number;
    };
    const share = Math.min(fraction, larger);
    expect(fleshWith(share)).toBeLessThanOrEqual(fleshWith(0) + 1e-12);
    expect(fleshWith(Math.max(fraction, larger))).toBeLessThanOrEqual(fleshWith(share) + 1e-12);
  }), seeded);
});

test('bitterness stays between nothing and what there was, and a change never makes brine more bitter', () => {
  fc.assert(fc.property(bitter, between(0, 100), between(0, 100), ratio, between(0, 1), (from, leaching, hydrolysis, r, fraction) => {
    const to = leach(from, leaching, hydrolysis, r);
    const most = Math.max(from.flesh, from.brine) + 1e-12;
    for (const value of [to.flesh, to.brine]) expect(value >= 0 && value <= most).toBe(true);
    expect(changeBrine(to, fraction).brine).toBeLessThanOrEqual(to.brine);
  }), seeded);
});

test('a dose does not depend on where a steady stretch is read, and adds up', () => {
  fc.assert(fc.property(between(0, 40), between(0, 40), fc.uniqueArray(between(0.001, 0.999), { minLength: 1, maxLength: 10 }), between(20, 90), (coldC, warmC, cuts, energy) => {
    const ends = [{ t: 0, temperatureC: coldC }, { t: dayMs, temperatureC: coldC }, { t: dayMs, temperatureC: warmC }, { t: 2 * dayMs, temperatureC: warmC }];
    const more = [...ends, ...cuts.map((share) => ({ t: share * dayMs, temperatureC: coldC }))].toSorted((a, b) => a.t - b.t || ends.indexOf(a) - ends.indexOf(b));
    const few = temperatureDose(ends, energy, 0, 15);
    const many = temperatureDose(more, energy, 0, 15);
    for (const at of [0.3, 1, 1.4, 2, 3]) expect(many.until(at * dayMs)).toBeCloseTo(few.until(at * dayMs), 9);
  }), seeded);
});

test('a dose never falls with time', () => {
  fc.assert(fc.property(fc.array(fc.tuple(between(0.01, 3), between(-5, 45)), { minLength: 1, maxLength: 30 }), between(0, 30), (steps, laterC) => {
    let t = 0;
    const readings = steps.map(([days, temperatureC]) => ({ t: (t += days * dayMs), temperatureC }));
    const dose = temperatureDose(readings, 40, 0, laterC);
    let last = 0;
    for (let day = 0; day <= 100; day += 0.7) {
      const now = dose.until(day * dayMs);
      expect(now).toBeGreaterThanOrEqual(last);
      last = now;
    }
  }), seeded);
});
