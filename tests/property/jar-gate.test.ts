import fc from 'fast-check';
import { expect, test } from 'vitest';
import { jarGate } from '#domain/jar/jar-gate.ts';
import type { JarVerdict } from '#domain/jar/jar-finding.ts';
import type { JarReading } from '#domain/jar/packed-jar-rule.ts';
import { hourMs } from '#domain/units/time.ts';
import { goodMeter } from '../helpers/jars.ts';

const seed = 20260711;
const meter = fc.record({
  bufferHalfWidth: fc.double({ min: 0, max: 0.05, noNaN: true }),
  secondBufferError: fc.option(fc.double({ min: -0.08, max: 0.08, noNaN: true }), { freq: 8 }),
  nearestBufferPh: fc.constantFrom(4, 4.01, 7),
  slopeHalfWidth: fc.double({ min: 0, max: 0.1, noNaN: true }),
  temperatureHalfWidthC: fc.double({ min: 0, max: 15, noNaN: true }),
  sampleC: fc.double({ min: 5, max: 30, noNaN: true }),
});
const reading: fc.Arbitrary<JarReading> = fc.record({
  jar: fc.option(fc.constantFrom('1', '2', '3'), { freq: 8 }),
  at: fc.integer({ min: 0, max: 200 }).map((hours) => hours * hourMs),
  ph: fc.double({ min: 3.5, max: 5, noNaN: true }),
  method: fc.constantFrom('meter', 'meter', 'meter', 'strip'),
  meter: fc.option(fc.oneof(meter, fc.constant(goodMeter)), { freq: 8 }),
});
const readings = fc.array(reading, { maxLength: 10 });
/** Mostly complete evidence, so that the answer inside is met often enough to be tested. */
const nearly = fc.tuple(fc.double({ min: 3.6, max: 4.5, noNaN: true }), fc.array(fc.double({ min: 0, max: 0.04, noNaN: true }), { minLength: 4, maxLength: 4 }), fc.array(reading, { maxLength: 1 })).map(([ph, shifts, more]): JarReading[] => [
  ...shifts.map((shift, i): JarReading => ({ jar: String((i % 2) + 1), at: (i < 2 ? 30 : 90) * hourMs, ph: ph + shift, method: 'meter', meter: goodMeter })),
  ...more,
]);
const either = fc.oneof(readings, nearly);
const worse: Readonly<Record<JarVerdict, number>> = { inside: 0, unknown: 1, outside: 2 };
const gate = (given: readonly JarReading[]) => jarGate({ packedAt: 0, readings: given });

test('the verdict never gets better when every pH is higher', () => {
  const seen: Record<JarVerdict, number> = { inside: 0, unknown: 0, outside: 0 };
  fc.assert(
    fc.property(either, fc.double({ min: 0, max: 1, noNaN: true }), (given, shift) => {
      const before = gate(given).verdict;
      const after = gate(given.map((each) => ({ ...each, ph: each.ph + shift }))).verdict;
      seen[before] += 1;
      expect(worse[after]).toBeGreaterThanOrEqual(worse[before]);
    }),
    { seed, numRuns: 3_000 },
  );
  // The property says nothing where a verdict never occurs.
  for (const count of Object.values(seen)) expect(count).toBeGreaterThan(200);
});

test('nothing is inside while anything is unknown: jars, repeats, meter, margin', () => {
  fc.assert(
    fc.property(either, (given) => {
      const { verdict, jars, mean, uncertainty, margin, next, unmet } = gate(given);
      if (verdict !== 'inside') {
        expect(next).not.toBeNull();
        if (verdict === 'unknown') expect(unmet.length).toBeGreaterThan(0);
        return;
      }
      expect(next).toBeNull();
      expect(jars.length).toBeGreaterThanOrEqual(2);
      for (const { last } of jars) {
        expect(last.method).toBe('meter');
        expect(Math.abs(last.meter?.secondBufferError ?? 1)).toBeLessThanOrEqual(0.05 + 1e-9);
        expect(last.at).toBeGreaterThanOrEqual(24 * hourMs);
        expect(last.ph + 0.1).toBeLessThanOrEqual(4.3);
      }
      expect((mean ?? 9) + (uncertainty?.expanded ?? 9) + (margin ?? -9)).toBeLessThanOrEqual(4.3 + 1e-9);
      const pairs = jars.filter(({ jar, last }) => given.some((each) => each.jar === jar && each.method === 'meter' && last.at - each.at >= 48 * hourMs && Math.abs(last.ph - each.ph) <= 0.05 + 1e-9));
      expect(pairs.length).toBeGreaterThan(0);
    }),
    { seed, numRuns: 3_000 },
  );
});

test('taking any one condition away from evidence that is inside makes it unknown', () => {
  fc.assert(
    fc.property(nearly, fc.constantFrom<Partial<JarReading>>({ method: 'strip' }, { meter: null }, { jar: 'same' }, { at: 23 * hourMs }, { meter: { ...goodMeter, secondBufferError: null } }), (given, change) => {
      fc.pre(gate(given).verdict === 'inside');
      expect(gate(given.map((each) => ({ ...each, ...change }))).verdict).toBe('unknown');
    }),
    { seed, numRuns: 500 },
  );
});

test('the order in which readings were written does not matter', () => {
  fc.assert(
    fc.property(fc.uniqueArray(reading, { maxLength: 8, selector: ({ at }) => at }), (given) => {
      expect(gate(given.toReversed()).verdict).toBe(gate(given).verdict);
      expect(gate(given.toReversed()).margin).toBe(gate(given).margin);
    }),
    { seed, numRuns: 500 },
  );
});
