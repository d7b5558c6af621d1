import { describe, expect, it } from 'vitest';
import { openFrame } from '../../../../collector/sources/serial/checked-frame.ts';
import { cobsDecode } from '../../../../collector/sources/serial/cobs.ts';
import { crc16 } from '../../../../collector/sources/serial/crc16.ts';
import { createSegments } from '../../../../collector/sources/serial/segments.ts';
import { frameOf, stuff } from '../../../helpers/frames.ts';

const bytes = (hex: string): Uint8Array => Uint8Array.from(Buffer.from(hex.replaceAll(' ', ''), 'hex'));
const text = (piece: Uint8Array): string => Buffer.from(piece).toString();

describe('the checksum of a frame', () => {
  it('is the catalogued one: 0x29B1 for 123456789 (catalogue of parametrised CRC algorithms, CRC-16/IBM-3740)', () => {
    expect(crc16(Buffer.from('123456789')).toString(16)).toBe('29b1');
  });
});

// Cheshire and Baker (1999), and the table of examples in the article on the method that follows it.
const upTo = (first: number, last: number): number[] => Array.from({ length: last - first + 1 }, (_empty, index) => first + index);
const published: readonly (readonly [string, Uint8Array, Uint8Array])[] = [
  ['00', bytes('00'), bytes('01 01')],
  ['00 00', bytes('00 00'), bytes('01 01 01')],
  ['00 11 00', bytes('00 11 00'), bytes('01 02 11 01')],
  ['11 22 00 33', bytes('11 22 00 33'), bytes('03 11 22 02 33')],
  ['11 22 33 44', bytes('11 22 33 44'), bytes('05 11 22 33 44')],
  ['11 00 00 00', bytes('11 00 00 00'), bytes('02 11 01 01 01')],
  ['01 to fe', Uint8Array.from(upTo(1, 254)), Uint8Array.from([0xff, ...upTo(1, 254)])],
  ['00 to fe', Uint8Array.from(upTo(0, 254)), Uint8Array.from([0x01, 0xff, ...upTo(1, 254)])],
  ['01 to ff', Uint8Array.from(upTo(1, 255)), Uint8Array.from([0xff, ...upTo(1, 254), 0x02, 0xff])],
];

describe('byte stuffing', () => {
  it.each(published)('of %s is undone', (_name, plain, stuffed) => {
    expect(cobsDecode(stuffed)).toEqual(plain);
  });
  it.each(published)('of %s is what the device of these tests sends', (_name, plain, stuffed) => {
    expect(stuff([...plain])).toEqual([...stuffed]);
  });
  it('that points past its end, or holds a zero, is no stuffing', () => {
    expect(cobsDecode(bytes('05 11 22'))).toBeNull();
    expect(cobsDecode(bytes('03 11 00'))).toBeNull();
    expect(cobsDecode(bytes('00'))).toBeNull();
  });
});

describe('a checked frame', () => {
  const frame = frameOf('temperature 18.25');
  const inside = frame.subarray(0, -1);
  it('gives back what was sent', () => {
    const opened = openFrame(inside);
    expect(opened.ok && text(opened.value)).toBe('temperature 18.25');
  });
  it('with any one bit changed is refused', () => {
    const flipped = [...inside].flatMap((byte, at) => [1, 2, 4, 8, 16, 32, 64, 128].map((bit) => openFrame(inside.with(at, byte ^ bit))));
    expect(flipped.filter((opened) => opened.ok)).toEqual([]);
    expect(flipped.length).toBeGreaterThan(150);
  });
  it('cut anywhere is refused', () => {
    expect(upTo(0, inside.length - 1).filter((length) => openFrame(inside.subarray(0, length)).ok)).toEqual([]);
  });
  it('says what is wrong', () => {
    const errorOf = (opened: ReturnType<typeof openFrame>): string | null => (opened.ok ? null : opened.error);
    expect(errorOf(openFrame(bytes('05 11')))).toBe('frame-stuffing');
    expect(errorOf(openFrame(bytes('02 11')))).toBe('frame-length');
    // A right checksum over a wrong length: two frames that a lost zero has made one.
    expect(errorOf(openFrame(Uint8Array.from(stuff([0, 9, 1, crc16([0, 9, 1]) >> 8, crc16([0, 9, 1]) & 0xff]))))).toBe('frame-length');
    expect(errorOf(openFrame(Uint8Array.from(stuff([0, 1, 7, 0, 0]))))).toBe('frame-checksum');
  });
});

describe('cutting a stream', () => {
  it('keeps no more than it was told, and says what it dropped', () => {
    const segments = createSegments(0x0a, 8);
    expect(segments.push(Buffer.from('123456789'))).toEqual({ pieces: [], tooLong: 0 });
    expect(segments.waiting).toBe(0);
    for (let round = 0; round < 100; round += 1) segments.push(Buffer.alloc(1_000, 0x41));
    expect([segments.waiting, segments.bytesDropped]).toEqual([0, 100_009]);
    const after = segments.push(Buffer.from('x\n12345678\n'));
    expect([after.tooLong, after.pieces.map(text)]).toEqual([1, ['12345678']]);
  });
});
