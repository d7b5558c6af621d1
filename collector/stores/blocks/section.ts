import { constants, zstdCompressSync, zstdDecompressSync } from 'node:zlib';
import type { ByteReader } from './byte-reader.ts';
import type { ByteWriter } from './byte-writer.ts';
import { MalformedBlock } from './columns.ts';

/** Level 3: higher ones gain a few per cent for two to three times the time. */
const compression = { params: { [constants.ZSTD_c_compressionLevel]: 3 } };
const plain = 0;
const compressed = 1;

/** A part of a block, compressed (zstd, RFC 8878) where that makes it smaller. Layout: how, length unpacked, length here, bytes. */
export const writeSection = (writer: ByteWriter, forms: readonly Uint8Array[]): void => {
  let best: { readonly how: number; readonly length: number; readonly bytes: Uint8Array } | null = null;
  for (const form of forms) {
    const packed = zstdCompressSync(form, compression);
    const candidate = packed.length < form.length ? { how: compressed, length: form.length, bytes: packed } : { how: plain, length: form.length, bytes: form };
    if (best === null || candidate.bytes.length < best.bytes.length) best = candidate;
  }
  if (best === null) throw new RangeError('a section has at least one form');
  writer.byte(best.how);
  writer.whole(best.length);
  writer.whole(best.bytes.length);
  writer.bytes(best.bytes);
};

/** `mostBytes` bounds what damaged bytes may make of memory. */
export const readSection = (reader: ByteReader, mostBytes: number): Uint8Array => {
  const how = reader.byte();
  const length = reader.whole();
  const bytes = reader.bytes(reader.whole());
  if (length > mostBytes || how > compressed) throw new MalformedBlock('a section is larger than its readings can be');
  const unpacked = how === compressed ? decompress(bytes, length) : bytes;
  if (unpacked.length !== length) throw new MalformedBlock('a section has not the length it says');
  return unpacked;
};

const decompress = (bytes: Uint8Array, length: number): Uint8Array => {
  try {
    return zstdDecompressSync(bytes, { maxOutputLength: Math.max(1, length) });
  } catch (cause) {
    throw new MalformedBlock('a section cannot be unpacked', { cause });
  }
};
