import { createHash, randomBytes } from 'node:crypto';
import type { DatabaseSync } from 'node:sqlite';
import type { Role, TokenPurpose } from '#contract';
import type { EpochMs } from '#domain/units/time.ts';

/** A key to one thing to read, for a program that cannot sign in. It never opens anything else, and ends with its user. */
export interface FeedToken {
  readonly id: string;
  readonly user: string;
  readonly purpose: TokenPurpose;
  readonly madeAt: EpochMs;
}

export interface FeedTokens {
  /** The secret is told this once and kept as a digest; null when the user has as many as anyone needs. */
  make(user: string, purpose: TokenPurpose): { readonly token: FeedToken; readonly secret: string } | null;
  all(): readonly FeedToken[];
  /** Whose secret it is, as the user stands now. */
  userOf(secret: string, purpose: TokenPurpose): { readonly name: string; readonly role: Role } | null;
  revoke(id: string): boolean;
}

export const mostTokensPerUser = 20;

export const createFeedTokens = (database: DatabaseSync, now: () => EpochMs): FeedTokens => {
  database.exec(`CREATE TABLE IF NOT EXISTS tokens (id TEXT PRIMARY KEY, digest TEXT NOT NULL UNIQUE, name TEXT NOT NULL REFERENCES users(name) ON DELETE CASCADE,
    purpose TEXT NOT NULL, made INTEGER NOT NULL) STRICT`);
  const sql = {
    add: database.prepare('INSERT INTO tokens (id, digest, name, purpose, made) VALUES (?, ?, ?, ?, ?)'),
    count: database.prepare('SELECT count(*) AS tokens FROM tokens WHERE name = ?'),
    all: database.prepare('SELECT id, name, purpose, made FROM tokens ORDER BY made, id'),
    user: database.prepare('SELECT users.name, users.role FROM tokens JOIN users ON users.name = tokens.name WHERE digest = ? AND purpose = ?'),
    revoke: database.prepare('DELETE FROM tokens WHERE id = ?'),
  };
  return {
    make: (name, purpose) => {
      if (Number(sql.count.get(name)?.tokens) >= mostTokensPerUser) return null;
      const secret = randomBytes(32).toString('base64url');
      const token = { id: randomBytes(6).toString('hex'), user: name, purpose, madeAt: now() };
      sql.add.run(token.id, digest(secret), name, purpose, token.madeAt);
      return { token, secret };
    },
    all: () => sql.all.all().map((row) => ({ id: String(row.id), user: String(row.name), purpose: row.purpose as TokenPurpose, madeAt: Number(row.made) })),
    userOf: (secret, purpose) => {
      const row = sql.user.get(digest(secret), purpose);
      return row === undefined ? null : { name: String(row.name), role: row.role as Role };
    },
    revoke: (id) => Number(sql.revoke.run(id).changes) > 0,
  };
};

const digest = (secret: string): string => createHash('sha256').update(secret).digest('hex');
