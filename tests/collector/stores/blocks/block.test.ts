import { describe, expect, test } from 'vitest';
import { decodeBlock, encodeBlock } from '../../../../collector/stores/blocks/block.ts';
import { packBits } from '../../../../collector/stores/blocks/bit-pack.ts';
import { toPlanes } from '../../../../collector/stores/blocks/byte-planes.ts';
import { ByteWriter } from '../../../../collector/stores/blocks/byte-writer.ts';
import { valueForms } from '../../../../collector/stores/blocks/value-column.ts';
import { blockOf, tenSecondDay, type Entry } from '../../../helpers/blocks.ts';
import { start } from '../../../helpers/readings.ts';
import { valueOf } from '../../../helpers/value-of.ts';

const bytesPerReading = (entries: readonly Entry[]): number => {
  const bytes = encodeBlock(blockOf(entries));
  // A size is only worth telling of bytes that read back.
  expect(valueOf(decodeBlock(bytes)).columns.times.length).toBe(entries.length);
  return bytes.length / entries.length;
};

describe('the size of a block', () => {
  // Jitter of ±200 ms evenly spread is log2(401) = 8.65 bits: 1.08 bytes is the floor for the times alone.
  test.each([
    ['brine, 1/16 °C', tenSecondDay(16, 1.5, 0.05, 21)],
    ['air, 1/16 °C', tenSecondDay(16, 8, 0.08, 24)],
    ['pH, hundredths', tenSecondDay(100, 0.05, 0.02, 4.4)],
  ])('a day every ten seconds, %s, takes less than two bytes a reading', (name, entries) => {
    const size = bytesPerReading(entries);
    console.info(`${name}: ${size.toFixed(3)} bytes a reading`);
    expect(size).toBeLessThan(2);
    expect(size).toBeGreaterThan(1.08);
  });

  test('without jitter the times cost next to nothing', () => {
    const regular = tenSecondDay(16, 1.5, 0.05, 21).map((entry, index) => ({ ...entry, time: start + index * 10_000 }));
    expect(bytesPerReading(regular)).toBeLessThan(0.6);
  });

  test('a probe that is restarted at another second costs a little, not a bit more in every time', () => {
    const entries = tenSecondDay(16, 1.5, 0.05, 21);
    const restarted = entries.map((entry, index) => (index < 4_000 ? entry : { ...entry, time: entry.time + 4_321 })).filter(({ time }) => time < start + 86_400_000);
    expect(bytesPerReading(restarted)).toBeLessThan(bytesPerReading(entries) + 0.05);
  });

  test('a clock that runs one per cent fast, as well', () => {
    const fast = tenSecondDay(16, 1.5, 0.05, 21).map((entry, index) => ({ ...entry, time: start + Math.round((entry.time - start - index * 10_000) + index * 9_900) }));
    expect(bytesPerReading(fast)).toBeLessThan(2);
  });
});

describe('the layout of a block', () => {
  // Blocks are in files that outlive programs: what was written once must be readable for ever. Encoded once by this program's version 1.
  const written = '42726e4201136e6f7274682d312f74656d70657261747572650000805c0dde7942000040c25fde79420304000c0c00944e0201020201041dff05000b0b000a02484aa04802020a0200070703000201010001';
  const entries = [
    { time: start, value: 18.25, quality: 0 },
    { time: start + 10_004, value: 18.3125, quality: 0 },
    { time: start + 19_998, value: 85, quality: 1 },
    { time: start + 40_001, value: 18.25, quality: 0 },
  ];

  test('a block of version 1 still reads as what it was made of', () => {
    expect(decodeBlock(Buffer.from(written, 'hex'))).toEqual({ ok: true, value: blockOf(entries, 3) });
  });

  test('a version this program does not know is said to be one', () => {
    const bytes = encodeBlock(blockOf(entries));
    bytes[4] = 2;
    expect(decodeBlock(bytes)).toMatchObject({ ok: false, error: { code: 'unknown-version' } });
  });

  test('bits are packed as worked out by hand', () => {
    const writer = new ByteWriter();
    packBits(writer, Int32Array.of(5, 7, 6));
    // Two bits each; the lowest, 5, as a signed number is 10; then 00, 10, 01 from the right.
    expect([...writer.finish()]).toEqual([2, 10, 0b011000]);
  });

  test('planes put like bytes side by side', () => {
    expect([...toPlanes(Uint8Array.of(2, 1, 3, 1), 2)]).toEqual([2, 3, 1, 1]);
  });

  test('sixteenths become steps, anything finer stays a double', () => {
    expect(valueForms(Float64Array.of(18.25, 18.3125))).toHaveLength(2);
    expect(valueForms(Float64Array.of(18.25, 1 / 3))).toHaveLength(1);
    expect(valueForms(Float64Array.of(18.25, -0))).toHaveLength(1);
  });

  test('a block of nothing, or of a span that is no day, is a mistake of the caller', () => {
    expect(() => encodeBlock(blockOf([]))).toThrow(RangeError);
    expect(() => encodeBlock({ ...blockOf(entries), to: start + 2 ** 31 })).toThrow(RangeError);
  });
});
