import type { ByteReader } from './byte-reader.ts';
import type { ByteWriter } from './byte-writer.ts';
import { MalformedBlock } from './columns.ts';

/**
 * Whole numbers below 2^31 in magnitude, in groups of 256: each group states its lowest number and how many bits the distances from it
 * take, then those bits, lowest first. One number far from the others costs its own group only.
 * Worked example: 5, 7, 6 → lowest 5, distances 0, 2, 1 in 2 bits each → binary 01 10 00 → one byte 0x18.
 */
export const groupSize = 256;

export const packBits = (writer: ByteWriter, numbers: Int32Array): void => {
  for (let start = 0; start < numbers.length; start += groupSize) packGroup(writer, numbers.subarray(start, start + groupSize));
};

/** Bytes `packBits` would take, nearly: for choosing between ways to write the same thing. */
export const packedBytes = (numbers: Int32Array): number => {
  let bytes = 0;
  for (let start = 0; start < numbers.length; start += groupSize) {
    const group = numbers.subarray(start, start + groupSize);
    const { lowest, highest } = rangeOf(group);
    bytes += 3 + Math.ceil((group.length * bitsFor(highest - lowest)) / 8);
  }
  return bytes;
};

export const unpackBits = (reader: ByteReader, count: number): Int32Array => {
  // Each group takes two bytes at least: a count that the bytes cannot hold fails before it takes much room.
  const numbers = new Int32Array(count);
  for (let start = 0; start < count; start += groupSize) unpackGroup(reader, numbers.subarray(start, start + groupSize));
  return numbers;
};

const bitsFor = (distance: number): number => (distance === 0 ? 0 : 32 - Math.clz32(distance));

const rangeOf = (group: Int32Array): { readonly lowest: number; readonly highest: number } => {
  let lowest = group[0] ?? 0;
  let highest = lowest;
  for (const number of group) {
    if (number < lowest) lowest = number;
    if (number > highest) highest = number;
  }
  return { lowest, highest };
};

const packGroup = (writer: ByteWriter, group: Int32Array): void => {
  const { lowest, highest } = rangeOf(group);
  const width = bitsFor(highest - lowest);
  writer.byte(width);
  writer.signed(lowest);
  let pending = 0;
  let pendingBits = 0;
  const put = (value: number, bits: number) => {
    pending |= value << pendingBits;
    pendingBits += bits;
    while (pendingBits >= 8) {
      writer.byte(pending & 0xff);
      pending >>>= 8;
      pendingBits -= 8;
    }
  };
  for (const number of group) {
    const distance = (number - lowest) >>> 0;
    // Sixteen bits at a time: with the seven that may be pending they stay within what bit operators hold.
    put(distance & 0xffff, Math.min(width, 16));
    if (width > 16) put(distance >>> 16, width - 16);
  }
  if (pendingBits > 0) writer.byte(pending);
};

const unpackGroup = (reader: ByteReader, group: Int32Array): void => {
  const width = reader.byte();
  if (width > 32) throw new MalformedBlock('a width is impossible');
  const lowest = reader.signed();
  const bytes = reader.bytes(Math.ceil((group.length * width) / 8));
  let at = 0;
  let pending = 0;
  let pendingBits = 0;
  const take = (bits: number): number => {
    while (pendingBits < bits) {
      pending |= (bytes[at] ?? 0) << pendingBits;
      at += 1;
      pendingBits += 8;
    }
    const value = pending & ((1 << bits) - 1);
    pending >>>= bits;
    pendingBits -= bits;
    return value;
  };
  for (let index = 0; index < group.length; index += 1) {
    const low = take(Math.min(width, 16));
    const number = lowest + low + (width > 16 ? take(width - 16) * 0x1_0000 : 0);
    if (number > 0x7fff_ffff || number < -0x8000_0000) throw new MalformedBlock('a number is too large');
    group[index] = number;
  }
};
