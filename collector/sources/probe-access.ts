import { createHash, randomBytes, timingSafeEqual } from 'node:crypto';
import { parseProbeTopic } from '#domain/reading/topic.ts';
import type { Slug } from '#domain/reading/reading.ts';

/**
 * Who may speak on the embedded broker. A probe with a password is spoken for by nobody without it, and speaks for no other.
 * Those without one come from this computer, or from anywhere while no probe has a password: a shed that sets the first one has closed its door.
 */
export interface ProbeAccess {
  /** `local`: the connection comes from this computer. Answers who it is: a probe, or null for one without a name; `refused` otherwise. */
  admit(local: boolean, name: string | undefined, password: Uint8Array | undefined): { readonly probe: Slug | null } | 'refused';
  mayPublish(client: { readonly probe: Slug | null }, topic: string): boolean;
}

/** `auto`: from anywhere until a probe has a password, then from this computer alone. */
export const anonymousChoices = ['auto', 'yes', 'no'] as const;
export type Anonymous = (typeof anonymousChoices)[number];

export interface ProbeAccessOptions {
  readonly site: Slug;
  readonly anonymous: Anonymous;
  /** SHA-256 (hex) of each password, by probe, as it is now. The passwords are random and long, so their digests tell nothing. */
  readonly digests: () => ReadonlyMap<Slug, string>;
}

export const createProbeAccess = ({ site, anonymous, digests }: ProbeAccessOptions): ProbeAccess => ({
  admit: (local, name, password) => {
    if (name === undefined || name === '') return local || anonymous === 'yes' || (anonymous === 'auto' && digests().size === 0) ? { probe: null } : 'refused';
    const digest = digests().get(name);
    return digest !== undefined && password !== undefined && isPassword(password, digest) ? { probe: name } : 'refused';
  },
  mayPublish: ({ probe }, topic) => {
    const meaning = parseProbeTopic(site, topic);
    const spokenFor = typeof meaning === 'string' ? null : meaning.probe;
    if (probe !== null) return spokenFor === probe;
    return spokenFor === null || !digests().has(spokenFor);
  },
});

/** 120 random bits in letters a person can type on a board's set-up page. */
export const newProbePassword = (): { readonly password: string; readonly digest: string } => {
  const password = randomBytes(15).toString('base64url');
  return { password, digest: digestOf(password) };
};

const digestOf = (password: string | Uint8Array): string => createHash('sha256').update(password).digest('hex');

const isPassword = (password: Uint8Array, digest: string): boolean => timingSafeEqual(Buffer.from(digestOf(password), 'hex'), Buffer.from(digest, 'hex'));
