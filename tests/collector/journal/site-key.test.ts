import { execFileSync } from 'node:child_process';
import { chmodSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { shortCode } from '#domain/journal/short-code.ts';
import { systemPart } from '../../helpers/system-parts.ts';
import { fingerprintOf, isSignedBy, keyFile, openSiteKey, type SiteKey } from '../../../collector/journal/site-key.ts';

const undo: (() => void)[] = [];
afterEach(() => {
  for (const step of undo.splice(0).reverse()) step();
});
const directory = (): string => {
  const made = mkdtempSync(join(tmpdir(), 'key-'));
  undo.push(() => rmSync(made, { recursive: true, force: true }));
  return made;
};
const open = (folder: string, make = true): SiteKey => {
  const key = openSiteKey(folder, make);
  if (!key.ok) throw new Error(key.error.message);
  return key.value;
};

describe('signatures', () => {
  // RFC 8032, section 7.1, tests 1 and 2.
  it.each([
    ['', 'd75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a', 'e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e065224901555fb8821590a33bacc61e39701cf9b46bd25bf5f0595bbe24655141438e7a100b'],
    ['r', '3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c', '92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da085ac1e43e15996e458f3613d0f11d8c387b2eaeb4302aeeb00d291612bb0c00'],
  ])('of the published message %j holds, and of another does not', (message, publicHex, signatureHex) => {
    const publicKey = Buffer.from(publicHex, 'hex').toString('base64url');
    const signature = Buffer.from(signatureHex, 'hex').toString('base64url');
    expect(isSignedBy(publicKey, message, signature)).toBe(true);
    expect(isSignedBy(publicKey, `${message} `, signature)).toBe(false);
    expect(isSignedBy(publicKey, message, signature.replace(/^./, (first) => (first === 'A' ? 'B' : 'A')))).toBe(false);
  });

  it('are checked by another program: OpenSSL', () => {
    const folder = directory();
    const key = open(folder);
    const text = 'Barrel 2, 18.4 °C';
    writeFileSync(join(folder, 'text'), text);
    writeFileSync(join(folder, 'signature'), Buffer.from(key.sign(text), 'base64url'));
    execFileSync(systemPart('openssl'), ['pkey', '-in', join(folder, keyFile), '-pubout', '-out', join(folder, 'public.pem')]);
    const checked = execFileSync(systemPart('openssl'), ['pkeyutl', '-verify', '-pubin', '-inkey', join(folder, 'public.pem'), '-rawin', '-in', join(folder, 'text'), '-sigfile', join(folder, 'signature')]);
    expect(checked.toString()).toContain('Signature Verified Successfully');
  });

  it('with what is no key or no signature do not hold', () => {
    expect(isSignedBy('', 'text', '')).toBe(false);
    expect(isSignedBy('AAAA', 'text', 'AAAA')).toBe(false);
    expect(isSignedBy(Buffer.alloc(32, 255).toString('base64url'), 'text', Buffer.alloc(64).toString('base64url'))).toBe(false);
  });
});

describe('the key of the site', () => {
  it('is made once, for its owner only, and found again', () => {
    const folder = directory();
    const first = open(folder);
    expect(statSync(join(folder, keyFile)).mode & 0o777).toBe(0o600);
    expect(open(folder).publicKey).toBe(first.publicKey);
    expect(open(directory()).publicKey).not.toBe(first.publicKey);
    expect(first.fingerprint).toBe(fingerprintOf(first.publicKey));
    expect(first.fingerprint).toMatch(/^([0-9A-HJKMNP-TV-Z]{4} ){3}[0-9A-HJKMNP-TV-Z]{4}$/);
  });

  it('is not made by one who only reads', () => {
    const found = openSiteKey(directory(), false);
    expect(found).toMatchObject({ ok: false, error: { code: 'no-key' } });
  });

  it('that others can read, or that is damaged, is refused and left as it is', () => {
    const folder = directory();
    open(folder);
    chmodSync(join(folder, keyFile), 0o644);
    expect(openSiteKey(folder, true)).toMatchObject({ ok: false, error: { code: 'key-not-private' } });
    chmodSync(join(folder, keyFile), 0o600);
    writeFileSync(join(folder, keyFile), 'no key at all');
    expect(openSiteKey(folder, true)).toMatchObject({ ok: false, error: { code: 'damaged-key' } });
    expect(readFileSync(join(folder, keyFile), 'utf8')).toBe('no key at all');
  });
});

describe('a digest to read aloud', () => {
  // Python's base64.b32encode of the first ten bytes of SHA-256(''), its alphabet exchanged for Crockford's.
  it('is the first eighty bits in base 32', () => {
    expect(shortCode('e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855')).toBe('WERC 8GMR ZGE1 96QV');
    expect(shortCode('00000000000000000000')).toBe('0000 0000 0000 0000');
    expect(shortCode('ffffffffffffffffffff')).toBe('ZZZZ ZZZZ ZZZZ ZZZZ');
  });

  it('refuses what is no digest', () => {
    expect(() => shortCode('abc')).toThrow(RangeError);
    expect(() => shortCode('G'.repeat(64))).toThrow(RangeError);
  });
});
