import { hashes, verify } from '@noble/ed25519';
import { sha256, sha512 } from '@noble/hashes/sha2.js';
import canonicalize from 'canonicalize';
import { shortCode, type SealedRecord } from '#contract';

/**
 * The check of a record in the file that holds it. Browsers offer no cryptography to pages that do not come over a safe channel, and a file
 * on a disk is such a page in some of them; so a small library is brought along, and it is the same everywhere.
 */
hashes.sha512 = sha512;

/** `file`: the signed data as the JSON file of the record has it. */
export type Checked =
  | { readonly verified: true; readonly sealed: SealedRecord; readonly code: string; readonly fingerprint: string; readonly file: string }
  | { readonly verified: false; readonly why: string; readonly sealed: SealedRecord | null };

/** In a page `<` would end the data; it stands there as JSON can write it otherwise. The server writes it so. */
const inPage = (text: string): string => text.replaceAll('<', '\\u003c');

/** Every byte counts: the text must be the canonical one, and the signature over the record must be that of the key. */
export const checkRecord = (text: string): Checked => {
  let sealed: SealedRecord;
  try {
    sealed = JSON.parse(text) as SealedRecord;
  } catch {
    return { verified: false, why: 'The data can no longer be read as JSON.', sealed: null };
  }
  try {
    const { record, seal } = sealed;
    const known: unknown[] = [seal.canonicalization, seal.algorithm];
    if (known[0] !== 'JCS' || known[1] !== 'Ed25519') return { verified: false, why: 'The seal is of a kind that this page does not know.', sealed };
    const file = canonicalize(sealed) ?? '';
    if (inPage(file) !== text) return { verified: false, why: 'The data is not written as it was when it was signed.', sealed };
    const signed = new TextEncoder().encode(canonicalize(record));
    const publicKey = bytesOf(seal.publicKey);
    if (!verify(bytesOf(seal.signature), signed, publicKey, { zip215: false })) return { verified: false, why: 'The signature does not fit the data.', sealed };
    return { verified: true, sealed, code: shortCode(hex(sha256(signed))), fingerprint: shortCode(hex(sha256(publicKey))), file };
  } catch {
    return { verified: false, why: 'The seal cannot be read.', sealed };
  }
};

/** Strict: other spellings of the same bytes (a space, other spare bits in the last character) would let a changed file pass. */
const bytesOf = (base64url: string): Uint8Array => {
  const characters = atob(base64url.replaceAll('-', '+').replaceAll('_', '/'));
  if (btoa(characters).replaceAll('+', '-').replaceAll('/', '_').replaceAll('=', '') !== base64url) throw new RangeError('not written as base64url is written');
  return Uint8Array.from(characters, (character) => character.charCodeAt(0));
};

const hex = (bytes: Uint8Array): string => [...bytes].map((byte) => byte.toString(16).padStart(2, '0')).join('');
