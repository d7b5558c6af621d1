import { createHash } from 'node:crypto';
import { DatabaseSync } from 'node:sqlite';
import canonicalize from 'canonicalize';
import { fail, ok, type Result } from '#domain/result.ts';
import { genesisHash, type Draft, type Entry } from '#domain/journal/entry.ts';
import { toRfc3339, type EpochMs } from '#domain/units/time.ts';

/**
 * The book: the journal as a file (`book.db`), append-only and hash-chained. Both processes open it and append to it;
 * each append is one immediate transaction (read the last hash, write the next entries), so that the chain never forks.
 * Room `journal`: may import the domain, Node and canonicalize (RFC 8785).
 */
export interface Book {
  /** Durable when it returns. Entries get consecutive numbers, the time given and their place in the chain. */
  append(drafts: readonly Draft[], at: EpochMs): readonly Entry[];
  /** The same with a time of its own for each: for a history that is written afterwards. */
  appendTimed(drafts: readonly { readonly draft: Draft; readonly time: EpochMs }[]): readonly Entry[];
  /** Entries after a sequence number, oldest first. */
  read(after: number, limit: number): readonly Entry[];
  /** The text of each entry as stored, for checking byte by byte. */
  texts(after: number, limit: number): readonly { readonly sequence: number; readonly text: string }[];
  lastSequence(): number;
  close(): void;
}

export type BookFailure = { readonly code: 'newer-database' | 'damaged'; readonly message: string };

/** The newest form of the file that this program reads and writes. */
export const bookVersion = 1;
const busyTimeoutMs = 5_000;

/** Hash of an entry: SHA-256 (hex) over the RFC 8785 form of every field but `hash`. */
export const hashOf = (entry: Omit<Entry, 'hash'>): string => createHash('sha256').update(canonical(entry)).digest('hex');

export const canonical = (value: unknown): string => {
  const text = canonicalize(value);
  if (text === undefined) throw new TypeError('Only JSON values can stand in the journal');
  return text;
};

export const openBook = (file: string): Result<Book, BookFailure> => {
  let database: DatabaseSync;
  try {
    database = new DatabaseSync(file, { timeout: busyTimeoutMs });
    const found = Number(database.prepare('PRAGMA user_version').get()?.user_version ?? 0);
    if (found > bookVersion) {
      database.close();
      return fail({ code: 'newer-database', message: `The journal ${file} was written by a newer Brineward. Start that version, or restore a backup.` });
    }
    database.exec('PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL');
    if (found === 0) {
      database.exec(`BEGIN IMMEDIATE; CREATE TABLE IF NOT EXISTS entries (sequence INTEGER PRIMARY KEY, text TEXT NOT NULL) STRICT; PRAGMA user_version = ${bookVersion}; COMMIT`);
    }
  } catch (cause) {
    return fail({ code: 'damaged', message: `The journal ${file} cannot be read (${cause instanceof Error ? cause.message : String(cause)}). It was left as it is; restore a backup.` });
  }

  const last = database.prepare('SELECT text FROM entries ORDER BY sequence DESC LIMIT 1');
  const lastNumber = database.prepare('SELECT max(sequence) AS sequence FROM entries');
  const insert = database.prepare('INSERT INTO entries (sequence, text) VALUES (?, ?)');
  const select = database.prepare('SELECT sequence, text FROM entries WHERE sequence > ? ORDER BY sequence LIMIT ?');

  const appendTimed: Book['appendTimed'] = (drafts) => {
    if (drafts.length === 0) return [];
    database.exec('BEGIN IMMEDIATE');
    try {
      const row = last.get();
      const head = row === undefined ? { sequence: 0, hash: genesisHash } : (JSON.parse(String(row.text)) as Entry);
      let { sequence, hash: previousHash } = head;
      const entries = drafts.map(({ draft, time }) => {
        sequence += 1;
        // Copied field by field, and through JSON: what is hashed is what is stored, without `undefined`.
        const body = JSON.parse(JSON.stringify(draft.body)) as unknown;
        const unsealed = { sequence, time: toRfc3339(time), who: draft.who, kind: draft.kind, body, previousHash } as Omit<Entry, 'hash'>;
        const entry = { ...unsealed, hash: hashOf(unsealed) } as Entry;
        previousHash = entry.hash;
        insert.run(sequence, canonical(entry));
        return entry;
      });
      database.exec('COMMIT');
      return entries;
    } catch (error) {
      // A full disk ends the transaction by itself; undoing it once more would hide why.
      if (database.isTransaction) database.exec('ROLLBACK');
      throw error;
    }
  };

  const texts: Book['texts'] = (after, limit) => select.all(after, limit).map((row) => ({ sequence: Number(row.sequence), text: String(row.text) }));

  return ok({
    append: (drafts, at) => appendTimed(drafts.map((draft) => ({ draft, time: at }))),
    appendTimed,
    texts,
    read: (after, limit) => texts(after, limit).map(({ text }) => JSON.parse(text) as Entry),
    lastSequence: () => Number(lastNumber.get()?.sequence ?? 0),
    close: () => database.close(),
  });
};
