import { closeSync, existsSync, fsyncSync, openSync, readFileSync, renameSync, writeSync } from 'node:fs';
import { join } from 'node:path';

/** What an outlet needs and the journal must not hold: the password of the mail server, secret addresses, signing keys. */
export interface OutletSecret {
  readonly password?: string;
  readonly url?: string;
  /** Signing key of a webhook: `whsec_` and base64. */
  readonly key?: string;
}

export const secretsFile = 'outlet-secrets.json';
const ownerOnly = 0o600;

/** Kept beside the databases, readable by its owner only. A file that cannot be read holds no secrets: outlets then say what is missing. */
export const readSecrets = (directory: string): ReadonlyMap<string, OutletSecret> => {
  try {
    return new Map(Object.entries(JSON.parse(readFileSync(join(directory, secretsFile), 'utf8')) as Record<string, OutletSecret>));
  } catch {
    return new Map();
  }
};

/** Null takes it away. Renamed into place, so that nobody reads half of it. */
export const writeSecret = (directory: string, outlet: string, secret: OutletSecret | null): void => {
  const file = join(directory, secretsFile);
  const all = existsSync(file) ? new Map(Object.entries(JSON.parse(readFileSync(file, 'utf8')) as Record<string, OutletSecret>)) : new Map<string, OutletSecret>();
  if (secret === null) all.delete(outlet);
  else all.set(outlet, secret);
  const handle = openSync(`${file}.new`, 'w', ownerOnly);
  try {
    writeSync(handle, JSON.stringify(Object.fromEntries(all)));
    fsyncSync(handle);
  } finally {
    closeSync(handle);
  }
  renameSync(`${file}.new`, file);
};
