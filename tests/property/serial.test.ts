import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { createSerialDecoder, mostFrameBytes } from '../../collector/sources/serial/decoder.ts';
import { serialFormats, serialFramings, type SerialSpec } from '../../collector/sources/serial/spec.ts';
import { frameOf } from '../helpers/frames.ts';

const now = Date.UTC(2026, 4, 3, 6);
const kinds = serialFormats.flatMap((format) => serialFramings.map((framing): SerialSpec => ({ path: '/dev/ttyUSB0', baud: 9_600, format, framing, probe: format === '1-wire' ? null : 'barrel-2' })));
const contents: Readonly<Record<SerialSpec['format'], string>> = {
  lines: 'barrel-3 temperature 18.25',
  senml: '[{"n":"temperature","u":"Cel","v":18.25},{"n":"ph","v":4.3}]',
  '1-wire': '28-00000f1e64ff 91014b467fff0f1025',
};
const wired = ({ framing }: SerialSpec, content: string): Uint8Array => (framing === 'frame' ? frameOf(content) : Buffer.from(`${content}\n`));
const run = (spec: SerialSpec, chunks: readonly Uint8Array[]) => {
  const decoder = createSerialDecoder(spec, false);
  const decoded = chunks.flatMap((chunk) => decoder.push(chunk, now));
  return { readings: decoded.flatMap(({ readings }) => readings), refused: decoded.flatMap(({ refused }) => refused), waiting: decoder.waiting };
};
/** The pieces of a stream cut at these places. */
const cut = (stream: Uint8Array, places: readonly number[]): Uint8Array[] => {
  const at = [0, ...places.map((place) => place % (stream.length + 1)).toSorted((a, b) => a - b), stream.length];
  return at.slice(1).map((end, index) => stream.subarray(at[index], end));
};

describe.each(kinds)('a cable with $format in a $framing', (spec) => {
  const one = wired(spec, contents[spec.format]);
  const whole = run(spec, [one]);

  it('says the same wherever its bytes are split or merged', () => {
    expect(whole.refused).toEqual([]);
    expect(whole.readings.length).toBe(spec.format === 'senml' ? 2 : 1);
    for (let place = 0; place <= one.length; place += 1) expect(run(spec, cut(one, [place]))).toEqual(whole);
    const three = Buffer.concat([one, one, one]);
    const merged = run(spec, [three]);
    expect(merged.readings).toEqual([...whole.readings, ...whole.readings, ...whole.readings]);
    fc.assert(fc.property(fc.array(fc.nat(three.length), { maxLength: 12 }), (places) => void expect(run(spec, cut(three, places))).toEqual(merged)), { numRuns: 200 });
    expect(run(spec, [...three].map((byte) => Uint8Array.of(byte)))).toEqual(merged);
  });

  it('is not upset by noise: what follows its end is read, and nothing it can think of is thrown', () => {
    const end = Uint8Array.of(spec.framing === 'frame' ? 0x00 : 0x0a);
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 400 }), fc.array(fc.nat(500), { maxLength: 4 }), (noise, places) => {
        const { readings, refused } = run(spec, cut(Buffer.concat([noise, end, one]), places));
        expect(readings.slice(-whole.readings.length)).toEqual(whole.readings);
        expect(refused.every((reason) => /^[a-z0-9-]+$/.test(reason))).toBe(true);
      }),
      { numRuns: 400 },
    );
  });

  it('counts every malformed piece, and keeps no more than one of them', () => {
    const end = spec.framing === 'frame' ? 0x00 : 0x0a;
    const decoder = createSerialDecoder(spec, false);
    let state = 20_260_503;
    // A small generator with a fixed seed (Numerical Recipes' constants): the same noise in every run.
    const next = (): number => {
      state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
      return state >>> 24;
    };
    const count = 4_000;
    let refused = 0;
    for (let piece = 0; piece < count; piece += 1) {
      // An odd letter in front, so that none can be right or empty by chance.
      const noise = Uint8Array.from([0x7e, ...Array.from({ length: 2 + (next() % 60) }, next).filter((byte) => byte !== end), end]);
      const decoded = decoder.push(noise, now);
      refused += decoded.reduce((sum, item) => sum + item.refused.length, 0);
      expect(decoded.every(({ readings }) => readings.length === 0)).toBe(true);
    }
    expect(refused).toBe(count);
    expect(decoder.waiting).toBeLessThanOrEqual(mostFrameBytes);
  });
});
