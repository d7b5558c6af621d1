import { createHash, randomBytes } from 'node:crypto';
import { chmodSync } from 'node:fs';
import { DatabaseSync } from 'node:sqlite';
import type { Role } from '#contract';
import { fail, ok, type Result } from '#domain/result.ts';
import { dayMs, type EpochMs } from '#domain/units/time.ts';
import { createFeedTokens, type FeedTokens } from './feed-tokens.ts';
import { bare, grouped, newCode } from './codes.ts';
import { createInspections, type Inspections } from './inspections.ts';
import type { NewSession, User } from './user.ts';
import { checkPassword, hashPassword } from './passwords.ts';

export type { NewSession, User };

/**
 * Who may come in: users, their sessions, codes for inspectors, and the one-time set-up code. Kept apart from the journal (`access.db`,
 * readable by its owner only), because the journal is shown to others. Secrets are stored hashed.
 */
export interface AccessStore {
  hasUsers(): boolean;
  addUser(name: string, role: Role, password: string): Promise<boolean>;
  /** A changed password ends every session of the user. */
  setPassword(name: string, password: string): Promise<boolean>;
  removeUser(name: string): boolean;
  /** The user, when name and password fit; takes as long when there is no such user. */
  check(name: string, password: string): Promise<User | null>;
  openSession(user: User): NewSession;
  /** Lets a session that is in use and past half its time last from now on; how long, or null where there is nothing to renew. */
  renewSession(token: string): number | null;
  userOf(token: string): User | null;
  closeSession(token: string): void;
  /** A new code each time it is asked for, while nobody is set up; the older ones are void. */
  makeSetUpCode(): string;
  /** True once, for the right code: then it is used up. */
  useSetUpCode(code: string): boolean;
  readonly tokens: FeedTokens;
  readonly inspections: Inspections;
  close(): void;
}

export const accessFile = 'access.db';
/** The newest form of the file that this program reads and writes. */
export const accessVersion = 1;
const sessionMs = 30 * dayMs;
/** A user's oldest sessions end when there are more: signing in over and over must not fill the disk. */
const mostSessionsPerUser = 50;

export const openAccessStore = (file: string, now: () => EpochMs = Date.now): Result<AccessStore, { readonly message: string }> => {
  let database: DatabaseSync;
  try {
    database = new DatabaseSync(file, { timeout: 5_000 });
    chmodSync(file, 0o600);
    const found = Number(database.prepare('PRAGMA user_version').get()?.user_version ?? 0);
    if (found > accessVersion) {
      database.close();
      return fail({ message: `The list of users ${file} was written by a newer Brineward. Start that version, or restore a backup.` });
    }
    database.exec(`PRAGMA journal_mode = WAL; PRAGMA foreign_keys = ON;
      CREATE TABLE IF NOT EXISTS users (name TEXT PRIMARY KEY, role TEXT NOT NULL, password TEXT NOT NULL) STRICT;
      CREATE TABLE IF NOT EXISTS sessions (token TEXT PRIMARY KEY, name TEXT NOT NULL REFERENCES users(name) ON DELETE CASCADE, expires INTEGER NOT NULL) STRICT;
      CREATE TABLE IF NOT EXISTS setup (code TEXT PRIMARY KEY) STRICT;
      PRAGMA user_version = ${accessVersion}`);
  } catch (cause) {
    return fail({ message: `The list of users ${file} cannot be read (${cause instanceof Error ? cause.message : String(cause)}). It was left as it is; restore a backup.` });
  }
  const sql = {
    count: database.prepare('SELECT count(*) AS users FROM users'),
    user: database.prepare('SELECT name, role, password FROM users WHERE name = ?'),
    add: database.prepare('INSERT OR IGNORE INTO users (name, role, password) VALUES (?, ?, ?)'),
    setPassword: database.prepare('UPDATE users SET password = ? WHERE name = ?'),
    remove: database.prepare('DELETE FROM users WHERE name = ?'),
    open: database.prepare('INSERT INTO sessions (token, name, expires) VALUES (?, ?, ?)'),
    session: database.prepare('SELECT users.name, users.role, expires FROM sessions JOIN users ON users.name = sessions.name WHERE token = ? AND expires > ?'),
    renew: database.prepare('UPDATE sessions SET expires = ? WHERE token = ?'),
    closeOne: database.prepare('DELETE FROM sessions WHERE token = ?'),
    closeAllOf: database.prepare('DELETE FROM sessions WHERE name = ?'),
    closeExpired: database.prepare('DELETE FROM sessions WHERE expires <= ?'),
    closeOldest: database.prepare(`DELETE FROM sessions WHERE name = ?1 AND rowid NOT IN (SELECT rowid FROM sessions WHERE name = ?1 ORDER BY expires DESC, rowid DESC LIMIT ${mostSessionsPerUser})`),
    setCode: database.prepare('INSERT INTO setup (code) VALUES (?)'),
    useCode: database.prepare('DELETE FROM setup WHERE code = ?'),
    voidCodes: database.prepare('DELETE FROM setup'),
  };
  /** Checked when there is no such user, so that the answer takes as long. */
  const nobody = hashPassword(randomBytes(16).toString('hex'));

  const inspections = createInspections(database, now);
  const userIn = ({ name, role }: Readonly<Record<string, unknown>>): User => {
    const user = { name: String(name), role: role as Role };
    return user.role === 'inspector' ? { ...user, reads: { lots: inspections.lotsOf(user.name), inspection: null, until: null } } : user;
  };

  return ok({
    hasUsers: () => Number(sql.count.get()?.users) > 0,
    addUser: async (name, role, password) => {
      const added = Number(sql.add.run(name, role, await hashPassword(password)).changes) > 0;
      if (added) sql.voidCodes.run();
      return added;
    },
    setPassword: async (name, password) => {
      const changed = Number(sql.setPassword.run(await hashPassword(password), name).changes) > 0;
      sql.closeAllOf.run(name);
      return changed;
    },
    removeUser: (name) => Number(sql.remove.run(name).changes) > 0,
    check: async (name, password) => {
      const row = sql.user.get(name);
      const fits = await checkPassword(password, row === undefined ? await nobody : String(row.password));
      return row !== undefined && fits ? userIn(row) : null;
    },
    openSession: ({ name }) => {
      const token = randomBytes(32).toString('base64url');
      sql.closeExpired.run(now());
      sql.open.run(digest(token), name, now() + sessionMs);
      sql.closeOldest.run(name);
      return { token, maxAgeMs: sessionMs };
    },
    renewSession: (token) => {
      const row = sql.session.get(digest(token), now());
      if (row === undefined || Number(row.expires) - now() > sessionMs / 2) return null;
      sql.renew.run(now() + sessionMs, digest(token));
      return sessionMs;
    },
    userOf: (token) => {
      const row = sql.session.get(digest(token), now());
      return row === undefined ? inspections.userOf(token) : userIn(row);
    },
    closeSession: (token) => {
      sql.closeOne.run(digest(token));
      inspections.closeSession(token);
    },
    makeSetUpCode: () => {
      const code = newCode();
      sql.voidCodes.run();
      sql.setCode.run(digest(code));
      return grouped(code);
    },
    useSetUpCode: (code) => Number(sql.useCode.run(digest(bare(code))).changes) > 0,
    tokens: createFeedTokens(database, now),
    inspections,
    close: () => database.close(),
  });
};

const digest = (secret: string): string => createHash('sha256').update(secret).digest('hex');
