import { DatabaseSync } from 'node:sqlite';
import { fail, ok, type Result } from '#domain/result.ts';
import type { StoreFailureCode } from '../failure.ts';
import { failureOf } from './failure-of.ts';
import { readHeader } from './header.ts';
import type { SealStep } from './sealer.ts';
import { applicationId, migrate, migrations, versionOf } from './migrations/index.ts';

export interface SqliteOptions {
  readonly file: string;
  /** For the process that only reads: never creates, migrates or writes. */
  readonly readOnly?: boolean;
  /** How long a call waits for another process's lock before it fails as `locked`. SQLite's own default is not to wait at all. */
  readonly busyTimeoutMs?: number;
  /** The file may not grow past this; without it only the disk is the limit. */
  readonly mostBytes?: number;
  /** Told of each step while a series is sealed. */
  readonly onSealStep?: (step: SealStep) => void;
}

const texts = {
  missing: 'is not there yet: start the collector, it creates the file',
  'older-database': 'was written by an older Brineward: start the collector, it brings the file up to date',
  'newer-database': 'was written by a newer Brineward: start that version, or restore an older backup',
  'foreign-database': 'is a database of another program: choose another data directory',
  damaged: 'is damaged: it was left as it is; restore a backup',
  locked: 'is locked by another process: stop that process',
  'disk-full': 'cannot grow: free some room on its disk',
  'read-only': 'may not be written: look at the rights of the file and its directory',
  'input-output': 'cannot be opened: look at the path and the rights of its directory',
} as const;

export type OpenFailureCode = keyof typeof texts;
export interface OpenFailure {
  readonly code: OpenFailureCode;
  /** One line that says what to do. */
  readonly message: string;
}

const defaultBusyTimeoutMs = 5_000;
const pageBytes = 4_096;
/** The write-ahead log is copied into the file when it reaches this many pages: 16 MiB, a few seconds of the fastest ingest. */
const checkpointPages = 4_096;
const cacheKib = 16_384;

/** Opens the file as a database of readings at the version of this program, or says why not; what is refused is not touched. */
export const connect = (options: SqliteOptions): Result<DatabaseSync, OpenFailure> => {
  const { file, readOnly = false } = options;
  let database: DatabaseSync | undefined;
  const refuse = (code: OpenFailureCode): Result<never, OpenFailure> => {
    if (database?.isOpen === true) database.close();
    return fail({ code, message: `${file} ${texts[code]}` });
  };
  try {
    const refused = inspect(file, readOnly);
    if (refused !== null) return refuse(refused);
    database = new DatabaseSync(file, { readOnly, timeout: options.busyTimeoutMs ?? defaultBusyTimeoutMs });
    database.exec(`PRAGMA cache_size = -${cacheKib}`);
    if (!readOnly) prepareForWriting(database, options.mostBytes);
    // Reads the schema, and so finds a file that was cut short.
    database.prepare('SELECT count(*) FROM sqlite_schema').get();
    return ok(database);
  } catch (error) {
    const code: StoreFailureCode | undefined = failureOf(error)?.code ?? (isFileError(error) ? 'input-output' : undefined);
    if (code === undefined || code === 'closed' || code === 'unreachable' || code === 'outbox-full') throw error;
    return refuse(code);
  }
};

/** A further connection to a file that is open already, for reading only: it answers from the file and not from what another has in memory. */
export const connectAgain = ({ file, busyTimeoutMs = defaultBusyTimeoutMs }: SqliteOptions): DatabaseSync => new DatabaseSync(file, { readOnly: true, timeout: busyTimeoutMs });

/** Why a file must be left alone, or null. */
const inspect = (file: string, readOnly: boolean): OpenFailureCode | null => {
  const header = readHeader(file);
  if (header.kind === 'no-database') return 'damaged';
  if (header.kind !== 'database') return readOnly ? 'missing' : null;
  if (header.version > migrations.length) return 'newer-database';
  // What a killed process has left in the write-ahead log may be newer than the header; only SQLite can read that.
  const database = new DatabaseSync(file, { readOnly: true, timeout: defaultBusyTimeoutMs });
  try {
    const version = versionOf(database);
    if (version > migrations.length) return 'newer-database';
    const owner = Number(database.prepare('PRAGMA application_id').get()?.application_id);
    const isBlank = version === 0 && Number(database.prepare('SELECT count(*) AS count FROM sqlite_schema').get()?.count) === 0;
    if (owner !== applicationId && !isBlank) return 'foreign-database';
    return readOnly && version < migrations.length ? 'older-database' : null;
  } finally {
    database.close();
  }
};

const prepareForWriting = (database: DatabaseSync, mostBytes: number | undefined): void => {
  // FULL: a commit that has been acknowledged survives a power cut, not only a killed process.
  database.exec(`PRAGMA page_size = ${pageBytes}; PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL; PRAGMA wal_autocheckpoint = ${checkpointPages}`);
  migrate(database);
  if (mostBytes !== undefined) database.exec(`PRAGMA max_page_count = ${Math.max(1, Math.floor(mostBytes / pageBytes))}`);
};

const isFileError = (error: unknown): boolean => error instanceof Error && 'syscall' in error;
