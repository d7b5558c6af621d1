import { generateKeyPairSync, sign } from 'node:crypto';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkRecord } from '../../dashboard/record/check-record.ts';
import { secondCanonical } from '../helpers/jcs.ts';

/** Signed by Node's own Ed25519 over what another canonicaliser writes: the check of the page shares nothing with either. */
const { privateKey, publicKey } = generateKeyPairSync('ed25519');
const raw = publicKey.export({ format: 'der', type: 'spki' }).subarray(12).toString('base64url');
const record = { form: 'brineward-lot-record/1', lot: 'HO26-AW', note: 'cloudy <before>, "after" é 😂', numbers: [4.08, 1e21, -0.5, 0], none: null };
const seal = (of: unknown): string => {
  const signature = sign(null, Buffer.from(secondCanonical(of)), privateKey).toString('base64url');
  return secondCanonical({ record: of, seal: { canonicalization: 'JCS', algorithm: 'Ed25519', publicKey: raw, signature } }).replaceAll('<', '\\u003c');
};
const text = seal(record);

describe('the check of a record in its page', () => {
  it('verifies what was signed, and speaks the digests of key and record', () => {
    expect(checkRecord(text)).toMatchObject({ verified: true, code: expect.stringMatching(/^([0-9A-HJKMNP-TV-Z]{4} ?){4}$/) as string });
  });

  it('finds any one byte that is another', () => {
    const bytes = Buffer.from(text);
    fc.assert(
      fc.property(fc.nat(bytes.length - 1), fc.integer({ min: 1, max: 255 }), (place, flip) => {
        const changed = Buffer.from(bytes);
        changed[place] = (changed[place] ?? 0) ^ flip;
        expect(checkRecord(new TextDecoder().decode(changed)).verified).toBe(false);
      }),
      { numRuns: 300 },
    );
  });

  it('finds a byte more or less, and another record under the same seal', () => {
    fc.assert(fc.property(fc.nat(text.length - 1), fc.constantFrom(' ', '0', 'a', ''), (place, put) => {
      const changed = text.slice(0, place) + put + text.slice(put === '' ? place + 1 : place);
      expect(checkRecord(changed).verified).toBe(changed === text);
    }), { numRuns: 200 });
    expect(checkRecord(text.replace('"lot":"HO26-AW"', '"lot":"HO26-B5"'))).toMatchObject({ verified: false, why: 'The signature does not fit the data.' });
  });

  it('says of what is no record at all that it cannot be read', () => {
    for (const nothing of ['', '{}', 'null', '[]', '{"record":{},"seal":{}}', '{"record":1,"seal":null}']) expect(checkRecord(nothing).verified).toBe(false);
  });
});
