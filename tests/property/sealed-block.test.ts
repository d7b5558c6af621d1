import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { dayMs } from '#domain/units/time.ts';
import { decodeBlock, digestOf, encodeBlock } from '../../collector/stores/blocks/block.ts';
import { blockOf, qualityCount, type Entry } from '../helpers/blocks.ts';
import { start } from '../helpers/readings.ts';
import { valueOf } from '../helpers/value-of.ts';

const settings = { endOnFailure: true, seed: 20_261_125 };

/** Times of four kinds: regular, jittered, with silences and restarts, and any at all. */
const someTimes: fc.Arbitrary<readonly number[]> = fc.oneof(
  fc.record({ count: fc.integer({ min: 1, max: 3_000 }), interval: fc.integer({ min: 1, max: 28_000 }) }).map(({ count, interval }) => Array.from({ length: count }, (_, index) => index * interval)),
  fc.array(fc.integer({ min: -200, max: 200 }), { minLength: 1, maxLength: 2_000 }).map((jitters) => jitters.map((jitter, index) => 200 + index * 10_000 + jitter)),
  fc.array(fc.constantFrom(1_000, 1_001, 999, 5_000, 60_000, 3_600_000), { minLength: 1, maxLength: 500 }).map((steps) => {
    let time = 0;
    return steps.map((step) => (time += step));
  }),
  fc.uniqueArray(fc.oneof(fc.integer({ min: 0, max: dayMs - 1 }), fc.integer({ min: 0, max: 300 }), fc.constantFrom(0, dayMs - 1)), { minLength: 1, maxLength: 600 }),
).map((times) => [...new Set(times.filter((time) => time >= 0 && time < dayMs))].toSorted((one, other) => one - other));

/** Decimals and binary fractions of a probe, whole numbers, and any double: negative zero, subnormal, huge. */
const someValue: fc.Arbitrary<fc.Arbitrary<number>> = fc.constantFrom(
  fc.integer({ min: -400, max: 1_600 }).map((steps) => steps / 16),
  fc.integer({ min: -3_000, max: 12_000 }).map((steps) => steps / 100),
  fc.integer({ min: -(2 ** 30), max: 2 ** 30 }),
  fc.oneof(fc.constantFrom(-0, 0, 5e-324, -5e-324, 2.2e-308, Number.MAX_VALUE, -Number.MAX_VALUE, 0.1 + 0.2, 2 ** 30, 2 ** 30 - 1, 1e-6), fc.double({ noNaN: true, noDefaultInfinity: true })),
);

const someEntries: fc.Arbitrary<readonly Entry[]> = fc
  .tuple(someTimes, someValue)
  .filter(([times]) => times.length > 0)
  .chain(([times, value]) =>
    fc.tuple(
      fc.constant(times),
      fc.array(value, { minLength: times.length, maxLength: times.length }),
      fc.array(fc.oneof({ weight: 5, arbitrary: fc.constant(0) }, { weight: 1, arbitrary: fc.integer({ min: 0, max: qualityCount - 1 }) }), { minLength: times.length, maxLength: times.length }),
    ),
  )
  .map(([times, values, qualities]) => times.map((time, index) => ({ time: start + time, value: values[index] ?? 0, quality: qualities[index] ?? 0 })));

describe('the bytes of a block', () => {
  test('any readings come back bit for bit, with everything the head says', () => {
    fc.assert(
      fc.property(someEntries, fc.nat(1_000), (entries, part) => {
        const block = blockOf(entries, part);
        // `toEqual` tells a negative zero from zero, also inside typed arrays.
        expect(decodeBlock(encodeBlock(block))).toEqual({ ok: true, value: block });
      }),
      { ...settings, numRuns: 300 },
    );
  });

  test('cut short anywhere, or with something after it, is refused', () => {
    fc.assert(
      fc.property(someEntries, fc.double({ min: 0, max: 1, maxExcluded: true, noNaN: true }), (entries, share) => {
        const bytes = encodeBlock(blockOf(entries));
        expect(decodeBlock(bytes.subarray(0, Math.floor(bytes.length * share))).ok).toBe(false);
        expect(decodeBlock(new Uint8Array([...bytes, 0])).ok).toBe(false);
      }),
      { ...settings, numRuns: 200 },
    );
  });

  test('with any bytes changed never throws, and what it still reads as has another digest', () => {
    fc.assert(
      fc.property(someEntries, fc.array(fc.tuple(fc.nat(), fc.integer({ min: 1, max: 255 })), { minLength: 1, maxLength: 4 }), (entries, changes) => {
        const bytes = encodeBlock(blockOf(entries.slice(0, 60)));
        const changed = bytes.slice();
        for (const [at, by] of changes) changed[at % bytes.length] = (changed[at % bytes.length] ?? 0) ^ by;
        fc.pre(changed.some((byte, index) => byte !== bytes[index]));
        const decoded = decodeBlock(changed);
        expect(digestOf(changed)).not.toBe(digestOf(bytes));
        if (decoded.ok) {
          const { times } = decoded.value.columns;
          expect(times.every((time, index) => time >= decoded.value.from && time < decoded.value.to && time > (times[index - 1] ?? -Infinity))).toBe(true);
        }
      }),
      { ...settings, numRuns: 500 },
    );
  });

  test('any bytes at all are an answer, not a crash', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 300 }), (bytes) => {
        expect(decodeBlock(bytes).ok).toBe(false);
        expect(decodeBlock(new Uint8Array([0x42, 0x72, 0x6e, 0x42, 1, ...bytes])).ok).toBe(false);
      }),
      { ...settings, numRuns: 500 },
    );
  });

  test('a value that is not exactly a number of steps is not made one', () => {
    const entries = [0.1, 0.2, 0.1 + 0.2].map((value, index) => ({ time: start + index, value, quality: 0 }));
    const { values } = valueOf(decodeBlock(encodeBlock(blockOf(entries)))).columns;
    expect([...values]).toEqual([0.1, 0.2, 0.30000000000000004]);
  });
});
