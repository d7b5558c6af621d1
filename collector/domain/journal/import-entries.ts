import type { LoggerMapping } from '../logger/mapping.ts';
import type { Rfc3339 } from '../units/time.ts';

/** The file of a logger that a person handed in, and how it is to be read: the collector takes it from there. */
export interface ImportOrdered {
  readonly id: string;
  /** As it was called where it came from. */
  readonly file: string;
  readonly bytes: number;
  /** SHA-256 (hex) of the file. */
  readonly digest: string;
  readonly mapping: LoggerMapping;
}

/** What became of it: every row is a reading or refused for a reason. */
export interface ImportFinished {
  readonly id: string;
  readonly rows: number;
  readonly stored: number;
  /** Rows whose very reading was there already, and rows that say something else than what was there: the first value stays. */
  readonly duplicates: number;
  readonly conflicts: number;
  readonly refused: Readonly<Record<string, number>>;
  /** The first and last reading; null where there is none. */
  readonly from: Rfc3339 | null;
  readonly to: Rfc3339 | null;
  /** The file was not there any more, or was not the one that was handed in. */
  readonly failed?: 'file-gone' | 'file-changed';
}

/** As the journal tells it. */
export interface LoggerImport extends ImportOrdered {
  readonly by: string;
  readonly orderedAt: Rfc3339;
  readonly finished: ImportFinished | null;
}
