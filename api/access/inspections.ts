import { createHash, randomBytes } from 'node:crypto';
import type { DatabaseSync } from 'node:sqlite';
import type { EpochMs } from '#domain/units/time.ts';
import type { NewSession, User } from './user.ts';
import { bare, grouped, newCode } from './codes.ts';
import { hashCode } from './passwords.ts';

/**
 * Codes for people who may read the records of named lots, and nothing else, until a time. A code is short, so it is kept as slowly made
 * a digest as a password (argon2id) under one nonce of this file: whoever copies the file cannot try them all before they are over.
 */
export interface Inspections {
  /** The code is told this once. */
  give(name: string, lots: readonly string[], until: EpochMs): Promise<{ readonly id: string; readonly code: string }>;
  /** A session that ends with the access, for whoever brings a code that still holds. */
  open(typed: string): Promise<{ readonly user: User; readonly session: NewSession } | null>;
  userOf(token: string): User | null;
  closeSession(token: string): void;
  /** Ends an access and everything that was opened with it. */
  end(id: string): boolean;
  /** Lots that a named account reads. */
  setLots(name: string, lots: readonly string[]): void;
  lotsOf(name: string): readonly string[];
}

/** An inspector has a phone and perhaps a computer at the desk; opening a code over and over must not fill the disk. */
const mostSessions = 20;

export const createInspections = (database: DatabaseSync, now: () => EpochMs): Inspections => {
  database.exec(`CREATE TABLE IF NOT EXISTS inspections (id TEXT PRIMARY KEY, code TEXT NOT NULL UNIQUE, name TEXT NOT NULL, lots TEXT NOT NULL, until INTEGER NOT NULL) STRICT;
    CREATE TABLE IF NOT EXISTS inspection_sessions (token TEXT PRIMARY KEY, inspection TEXT NOT NULL REFERENCES inspections(id) ON DELETE CASCADE) STRICT;
    CREATE TABLE IF NOT EXISTS inspection_nonce (nonce BLOB PRIMARY KEY) STRICT;
    CREATE TABLE IF NOT EXISTS reader_lots (name TEXT NOT NULL REFERENCES users(name) ON DELETE CASCADE, lot TEXT NOT NULL, PRIMARY KEY (name, lot)) STRICT;
    INSERT INTO inspection_nonce (nonce) SELECT randomblob(16) WHERE NOT EXISTS (SELECT 1 FROM inspection_nonce)`);
  const nonce = Buffer.from(database.prepare('SELECT nonce FROM inspection_nonce').get()?.nonce as Uint8Array);
  const sql = {
    give: database.prepare('INSERT INTO inspections (id, code, name, lots, until) VALUES (?, ?, ?, ?, ?)'),
    byCode: database.prepare('SELECT id, name, lots, until FROM inspections WHERE code = ? AND until > ?'),
    end: database.prepare('DELETE FROM inspections WHERE id = ?'),
    endOver: database.prepare('DELETE FROM inspections WHERE until <= ?'),
    open: database.prepare('INSERT INTO inspection_sessions (token, inspection) VALUES (?, ?)'),
    closeOldest: database.prepare(`DELETE FROM inspection_sessions WHERE inspection = ?1 AND rowid NOT IN (SELECT rowid FROM inspection_sessions WHERE inspection = ?1 ORDER BY rowid DESC LIMIT ${mostSessions})`),
    close: database.prepare('DELETE FROM inspection_sessions WHERE token = ?'),
    bySession: database.prepare('SELECT inspections.id, name, lots, until FROM inspection_sessions JOIN inspections ON inspections.id = inspection WHERE token = ? AND until > ?'),
    addLot: database.prepare('INSERT OR IGNORE INTO reader_lots (name, lot) VALUES (?, ?)'),
    removeLots: database.prepare('DELETE FROM reader_lots WHERE name = ?'),
    lots: database.prepare('SELECT lot FROM reader_lots WHERE name = ? ORDER BY lot'),
  };
  const userIn = (row: Readonly<Record<string, unknown>>): User => ({
    name: String(row.name),
    role: 'inspector',
    reads: { lots: JSON.parse(String(row.lots)) as string[], inspection: String(row.id), until: Number(row.until) },
  });

  return {
    give: async (name, lots, until) => {
      sql.endOver.run(now());
      const code = newCode();
      const id = randomBytes(6).toString('hex');
      sql.give.run(id, await hashCode(code, nonce), name, JSON.stringify(lots), until);
      return { id, code: grouped(code) };
    },
    open: async (typed) => {
      const row = sql.byCode.get(await hashCode(bare(typed), nonce), now());
      if (row === undefined) return null;
      const token = randomBytes(32).toString('base64url');
      sql.open.run(digest(token), String(row.id));
      sql.closeOldest.run(String(row.id));
      return { user: userIn(row), session: { token, maxAgeMs: Number(row.until) - now() } };
    },
    userOf: (token) => {
      const row = sql.bySession.get(digest(token), now());
      return row === undefined ? null : userIn(row);
    },
    closeSession: (token) => void sql.close.run(digest(token)),
    end: (id) => Number(sql.end.run(id).changes) > 0,
    setLots: (name, lots) => {
      sql.removeLots.run(name);
      for (const lot of lots) sql.addLot.run(name, lot);
    },
    lotsOf: (name) => sql.lots.all(name).map(({ lot }) => String(lot)),
  };
};

const digest = (secret: string): string => createHash('sha256').update(secret).digest('hex');
