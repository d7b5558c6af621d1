import { encode } from 'cborg';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { resolveSenml } from '#domain/reading/senml.ts';
import { decodeCborPack, looksLikeCbor } from '../../../collector/sources/cbor.ts';
import { decodeMessage } from '../../../collector/sources/payload.ts';
import { valueOf } from '../../helpers/value-of.ts';

const now = Date.UTC(2026, 4, 3, 6, 0, 0);
const decode = (payload: Uint8Array) => decodeMessage('home', 'brineward/home/probe/probe-1', payload, now);

describe('a pack in CBOR', () => {
  // RFC 8428, section 6: the example of 195 bytes.
  const published = Buffer.from(
    '87a721781b75726e3a6465763a6f773a3130653230373361303130383030363a22fb41d303a15b00106223614120050067766f6c7461676501615602fb405e066666666666a3006763757272656e74062402fb3ff3333333333333a3006763757272656e74062302fb3ff4cccccccccccda3006763757272656e74062202fb3ff6666666666666a3006763757272656e74062102f93e00a3006763757272656e74062002fb3ff999999999999aa3006763757272656e74060002fb3ffb333333333333',
    'hex',
  );

  it('of the standard is read as the standard reads it', () => {
    expect(published).toHaveLength(195);
    const records = valueOf(resolveSenml(valueOf(decodeCborPack(published)), now));
    expect(records.map(({ name, unit, value, at }) => ({ name, unit, value, at }))).toEqual([
      { name: 'urn:dev:ow:10e2073a0108006:voltage', unit: 'V', value: 120.1, at: 1_276_020_076_001 },
      ...[1.2, 1.3, 1.4, 1.5, 1.6, 1.7].map((value, index) => ({ name: 'urn:dev:ow:10e2073a0108006:current', unit: 'A', value, at: 1_276_020_071_001 + 1_000 * index })),
    ]);
  });

  it('is told from text by its first byte, and gives the readings that the same pack in JSON gives', () => {
    const pack = [{ bn: 'probe-1:', bt: now / 1_000 - 60, n: 'temperature', u: 'Cel', v: 18.25 }, { n: 'ph', u: 'pH', v: 4.31, t: 30 }];
    const numbered = pack.map((record) => new Map(Object.entries(record).map(([label, value]) => [{ bn: -2, bt: -3, n: 0, u: 1, v: 2, t: 6 }[label] ?? label, value])));
    const text = new TextEncoder().encode(JSON.stringify(pack));
    const binary = encode(numbered);
    expect(looksLikeCbor(binary)).toBe(true);
    expect(looksLikeCbor(text)).toBe(false);
    expect(decode(binary)).toEqual(decode(text));
    expect(decode(binary).readings).toHaveLength(2);
  });

  it('may say what it is (RFC 8949, section 3.4.6), and is taken at its word where the broker carries a content type', () => {
    const pack = encode([new Map<number, unknown>([[0, 'ph'], [1, 'pH'], [2, 4.31]])]);
    expect(decode(Uint8Array.from([0xd9, 0xd9, 0xf7, ...pack])).readings).toHaveLength(1);
    const text = new TextEncoder().encode('[{"n":"ph","u":"pH","v":4.31}]');
    expect(decodeMessage('home', 'brineward/home/probe/probe-1', text, now, { contentType: 'application/senml+cbor' }).refused).toEqual(['not-cbor']);
    expect(decodeMessage('home', 'brineward/home/probe/probe-1', text, now, { contentType: 'application/senml+json' }).readings).toHaveLength(1);
  });

  it.each([
    ['cut off', published.subarray(0, 100), 'not-cbor'],
    ['with a duplicate label', Uint8Array.from([0x81, 0xa2, 0x02, 0x01, 0x02, 0x02]), 'not-cbor'],
    ['with a value that is no number', encode([new Map<number, unknown>([[0, 'temperature'], [2, 'warm']])]), 'senml-field'],
    ['with not a number', Uint8Array.from([0x81, 0xa2, 0x00, 0x6b, ...Buffer.from('temperature'), 0x02, 0xf9, 0x7e, 0x00]), 'not-cbor'],
    ['nested without end', new Uint8Array(60_000).fill(0x81), 'not-cbor'],
    ['of no records', Uint8Array.from([0x80]), 'senml-not-a-pack'],
    ['of numbers', Uint8Array.from([0x82, 0x01, 0x02]), 'senml-not-a-pack'],
  ])('%s is refused', (_name, payload, reason) => {
    expect(decode(payload)).toMatchObject({ readings: [], refused: [reason] });
  });

  it('may be any bytes: never thrown at, always with a reason', () => {
    fc.assert(
      fc.property(fc.uint8Array({ minLength: 1, maxLength: 200 }), fc.integer({ min: 0x80, max: 0x9f }), (bytes, first) => {
        bytes[0] = first;
        const { readings, refused, aside } = decode(bytes);
        expect(readings.length + refused.length + aside.length).toBeGreaterThan(0);
      }),
      { numRuns: 2_000 },
    );
  });
});
