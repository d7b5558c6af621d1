import { decode } from 'cborg';
import { fail, ok, type Result } from '#domain/result.ts';

/**
 * A SenML pack in CBOR (RFC 8428 section 6) as the same pack in JSON would be: numbers in place of labels get their names back.
 * Never throws; what is no CBOR, or nests deeper than a pack may, is refused.
 */
const labels: ReadonlyMap<number, string> = new Map([
  [-1, 'bver'], [-2, 'bn'], [-3, 'bt'], [-4, 'bu'], [-5, 'bv'], [-6, 'bs'], [0, 'n'], [1, 'u'], [2, 'v'], [3, 'vs'], [4, 'vb'], [5, 's'], [6, 't'], [7, 'ut'], [8, 'vd'],
]);

/** RFC 8428, section 12.3.2. */
export const cborContentType = 'application/senml+cbor';
/** Says "this is CBOR" in front of what follows (RFC 8949, section 3.4.6). */
const selfDescribed = 55_799;

/** An array of CBOR, or one that says what it is, begins with bytes that no JSON text begins with: the two are never mistaken for each other. */
export const looksLikeCbor = (payload: Uint8Array): boolean => {
  const [first = 0, second, third] = payload;
  return (first >= 0x80 && first <= 0x9f) || (first === 0xd9 && second === 0xd9 && third === 0xf7);
};

export const decodeCborPack = (payload: Uint8Array): Result<unknown, 'not-cbor'> => {
  try {
    const pack: unknown = decode(payload, { useMaps: true, rejectDuplicateMapKeys: true, allowInfinity: false, allowNaN: false, tags: { [selfDescribed]: (inner) => inner() } });
    return ok(Array.isArray(pack) ? pack.map(withNames) : pack);
  } catch {
    return fail('not-cbor');
  }
};

const withNames = (record: unknown): unknown => (record instanceof Map ? Object.fromEntries([...record].map(([key, value]) => [typeof key === 'number' ? (labels.get(key) ?? String(key)) : String(key), plain(value)])) : record);

/** Data values come as bytes, and large whole numbers as bigint: neither is a number to measure with. */
const plain = (value: unknown): unknown => (value instanceof Uint8Array ? Buffer.from(value).toString('base64url') : value);
