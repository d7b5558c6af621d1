import { createHash, createPrivateKey, createPublicKey, generateKeyPairSync, sign, verify, type KeyObject } from 'node:crypto';
import { closeSync, existsSync, fsyncSync, openSync, readFileSync, renameSync, rmSync, statSync, writeSync } from 'node:fs';
import { join } from 'node:path';
import { shortCode } from '#domain/journal/short-code.ts';
import { fail, ok, type Result } from '#domain/result.ts';

/**
 * The key of the site: Ed25519 (RFC 8032), made at the first start, kept beside the databases and not in them, readable by its owner only.
 * It seals days and records. Whoever has its fingerprint from elsewhere can tell that a record came from this site unchanged.
 */
export interface SiteKey {
  /** The 32 bytes of the public key, base64url. */
  readonly publicKey: string;
  /** Speakable; the same on the wall, the papers and the labels. */
  readonly fingerprint: string;
  /** Signature over the UTF-8 bytes of a text, base64url. */
  sign(text: string): string;
}

export type KeyFailure = { readonly code: 'no-key' | 'damaged-key' | 'key-not-private' | 'key-not-writable'; readonly message: string };

export const keyFile = 'site-key.pem';
const ownerOnly = 0o600;
/** What stands before the 32 bytes of an Ed25519 public key in its DER form (RFC 8410). */
const spkiPrefix = Buffer.from('302a300506032b6570032100', 'hex');

/** Opens the key of a data directory; `make`: makes one where there is none yet. */
export const openSiteKey = (directory: string, make: boolean): Result<SiteKey, KeyFailure> => {
  const file = join(directory, keyFile);
  if (make) {
    const made = makeKey(file);
    if (made !== null) return fail(made);
  }
  let pem: string;
  try {
    if (process.platform !== 'win32' && (statSync(file).mode & 0o077) !== 0) {
      return fail({ code: 'key-not-private', message: `Others can read the key of the site, ${file}. Make it private (chmod 600) and start again; if somebody may have copied it, tell your inspector.` });
    }
    pem = readFileSync(file, 'utf8');
  } catch {
    return fail({ code: 'no-key', message: `There is no key of the site in ${directory}: it is made when Brineward starts there for the first time.` });
  }
  try {
    const privateKey = createPrivateKey(pem);
    if (privateKey.asymmetricKeyType !== 'ed25519') throw new TypeError('not an Ed25519 key');
    return ok(keyOf(privateKey));
  } catch {
    return fail({ code: 'damaged-key', message: `The key of the site, ${file}, cannot be read. It was left as it is: put it back from a backup. Without it nothing can be sealed.` });
  }
};

/** True when a text was signed by the key: for checking seals. */
export const isSignedBy = (publicKey: string, text: string, signature: string): boolean => {
  const raw = Buffer.from(publicKey, 'base64url');
  if (raw.length !== 32) return false;
  try {
    const key = createPublicKey({ key: Buffer.concat([spkiPrefix, raw]), format: 'der', type: 'spki' });
    return verify(null, Buffer.from(text, 'utf8'), key, Buffer.from(signature, 'base64url'));
  } catch {
    return false;
  }
};

export const fingerprintOf = (publicKey: string): string => shortCode(createHash('sha256').update(Buffer.from(publicKey, 'base64url')).digest('hex'));

const keyOf = (privateKey: KeyObject): SiteKey => {
  const publicKey = Buffer.from(createPublicKey(privateKey).export({ format: 'der', type: 'spki' })).subarray(spkiPrefix.length).toString('base64url');
  return {
    publicKey,
    fingerprint: fingerprintOf(publicKey),
    sign: (text) => sign(null, Buffer.from(text, 'utf8'), privateKey).toString('base64url'),
  };
};

/** Written whole under another name and moved into place, so that half a key is never found; only the one collector of the directory makes it. */
const makeKey = (file: string): KeyFailure | null => {
  if (existsSync(file)) return null;
  const draft = `${file}.new`;
  try {
    rmSync(draft, { force: true });
    const handle = openSync(draft, 'wx', ownerOnly);
    writeSync(handle, generateKeyPairSync('ed25519').privateKey.export({ format: 'pem', type: 'pkcs8' }));
    fsyncSync(handle);
    closeSync(handle);
    renameSync(draft, file);
    return null;
  } catch (cause) {
    const code = cause instanceof Error && 'code' in cause ? String(cause.code) : String(cause);
    return { code: 'key-not-writable', message: `The key of the site cannot be made in ${file} (${code}). Look at the rights of the directory. Readings are kept; days and records cannot be sealed.` };
  }
};
