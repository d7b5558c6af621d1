import { createHash, randomBytes, randomInt, timingSafeEqual } from 'node:crypto';
import { chmodSync } from 'node:fs';
import { DatabaseSync } from 'node:sqlite';
import type { Role } from '#contract';
import { checkPassword, hashPassword } from './passwords.ts';

/**
 * Who may come in: users, their sessions, and the one-time set-up code. Kept apart from the journal (`access.db`, readable by its
 * owner only), because the journal is shown to others. Secrets are stored hashed.
 */
export interface User {
  readonly name: string;
  readonly role: Role;
}

export interface AccessStore {
  hasUsers(): boolean;
  addUser(name: string, role: Role, password: string): Promise<boolean>;
  setPassword(name: string, password: string): Promise<boolean>;
  removeUser(name: string): boolean;
  users(): readonly User[];
  /** The user, when name and password fit; takes as long when there is no such user. */
  check(name: string, password: string): Promise<User | null>;
  openSession(user: User): { readonly token: string; readonly maxAgeMs: number };
  userOf(token: string): User | null;
  closeSession(token: string): void;
  /** A new code each time it is asked for, while nobody is set up; the older ones are void. */
  makeSetUpCode(): string;
  checkSetUpCode(code: string): boolean;
  close(): void;
}

const sessionMs = 30 * 24 * 3_600_000;
/** Without 0, O, 1, I, L: it is read from a terminal and typed on a phone. */
const codeLetters = 'ABCDEFGHJKMNPQRSTUVWXYZ23456789';

export const openAccessStore = (file: string, now: () => number = Date.now): AccessStore => {
  const database = new DatabaseSync(file, { timeout: 5_000 });
  chmodSync(file, 0o600);
  database.exec(`PRAGMA journal_mode = WAL;
    CREATE TABLE IF NOT EXISTS users (name TEXT PRIMARY KEY, role TEXT NOT NULL, password TEXT NOT NULL) STRICT;
    CREATE TABLE IF NOT EXISTS sessions (token TEXT PRIMARY KEY, name TEXT NOT NULL REFERENCES users(name) ON DELETE CASCADE, expires INTEGER NOT NULL) STRICT;
    CREATE TABLE IF NOT EXISTS setup (code TEXT PRIMARY KEY) STRICT;`);
  const sql = {
    count: database.prepare('SELECT count(*) AS users FROM users'),
    user: database.prepare('SELECT name, role, password FROM users WHERE name = ?'),
    users: database.prepare('SELECT name, role FROM users ORDER BY name'),
    add: database.prepare('INSERT OR IGNORE INTO users (name, role, password) VALUES (?, ?, ?)'),
    setPassword: database.prepare('UPDATE users SET password = ? WHERE name = ?'),
    remove: database.prepare('DELETE FROM users WHERE name = ?'),
    open: database.prepare('INSERT INTO sessions (token, name, expires) VALUES (?, ?, ?)'),
    session: database.prepare('SELECT users.name, users.role FROM sessions JOIN users ON users.name = sessions.name WHERE token = ? AND expires > ?'),
    closeOne: database.prepare('DELETE FROM sessions WHERE token = ?'),
    closeAllOf: database.prepare('DELETE FROM sessions WHERE name = ?'),
    closeOld: database.prepare('DELETE FROM sessions WHERE expires <= ?'),
    setCode: database.prepare('INSERT INTO setup (code) VALUES (?)'),
    code: database.prepare('SELECT code FROM setup'),
    voidCodes: database.prepare('DELETE FROM setup'),
  };
  database.exec('PRAGMA foreign_keys = ON');
  sql.closeOld.run(now());
  /** Checked when there is no such user, so that the answer takes as long. */
  const nobody = hashPassword(randomBytes(16).toString('hex'));

  return {
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
    users: () => sql.users.all().map((row) => ({ name: String(row.name), role: row.role as Role })),
    check: async (name, password) => {
      const row = sql.user.get(name);
      const fits = await checkPassword(password, row === undefined ? await nobody : String(row.password));
      return row !== undefined && fits ? { name: String(row.name), role: row.role as Role } : null;
    },
    openSession: ({ name }) => {
      const token = randomBytes(32).toString('base64url');
      sql.open.run(digest(token), name, now() + sessionMs);
      return { token, maxAgeMs: sessionMs };
    },
    userOf: (token) => {
      const row = sql.session.get(digest(token), now());
      return row === undefined ? null : { name: String(row.name), role: row.role as Role };
    },
    closeSession: (token) => {
      sql.closeOne.run(digest(token));
    },
    makeSetUpCode: () => {
      const letters = Array.from({ length: 8 }, () => codeLetters[randomInt(codeLetters.length)] ?? 'A').join('');
      sql.voidCodes.run();
      sql.setCode.run(digest(letters));
      return `${letters.slice(0, 4)}-${letters.slice(4)}`;
    },
    checkSetUpCode: (code) => {
      const stored = sql.code.get();
      const given = digest(code.toUpperCase().replaceAll(/[^A-Z0-9]/g, ''));
      return stored !== undefined && timingSafeEqual(Buffer.from(given), Buffer.from(String(stored.code)));
    },
    close: () => database.close(),
  };
};

const digest = (secret: string): string => createHash('sha256').update(secret).digest('hex');
