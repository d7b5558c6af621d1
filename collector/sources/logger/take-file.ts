import { existsSync } from 'node:fs';
import type { ImportFinished, LoggerImport } from '#domain/journal/import-entries.ts';
import type { RowRefusal } from '#domain/logger/mapping.ts';
import { readRow } from '#domain/logger/read-row.ts';
import type { Reading } from '#domain/reading/reading.ts';
import type { AppendOutcome } from '#domain/reading/store.ts';
import type { Result } from '#domain/result.ts';
import { toRfc3339, type EpochMs } from '#domain/units/time.ts';
import { readRows } from './csv-rows.ts';
import { digestOf, forgetImportFile, importFile, importProgress, noProgress, sayImportProgress, type ImportProgress } from './files.ts';

export interface TakeFileDeps {
  readonly directory: string;
  readonly now: () => EpochMs;
  /** Puts readings in the store as those of any probe; rejects when the store cannot take them now. Null: too many series are known. */
  readonly store: (readings: readonly Reading[]) => Promise<AppendOutcome | null>;
  /** True when no more is to be taken: the program ends. What was stored is not read again by the next one. */
  readonly isStopped: () => boolean;
  /** Lets everything else go on between two pieces. */
  readonly breathe: () => Promise<void>;
}

/** Rows stored in one go: few enough that probes hardly wait for them. */
const rowsAtOnce = 2_000;
const mostExamples = 20;
const longestExample = 120;

/**
 * Takes in one file, piece by piece. Null when it was stopped. Started again, it goes on behind the last piece that is known to be
 * stored; a piece stored just before a fall is told as duplicates, and its readings are there once.
 */
export const takeFile = async ({ id, mapping, digest }: LoggerImport, { directory, now, store, isStopped, breathe }: TakeFileDeps): Promise<ImportFinished | null> => {
  const file = importFile(directory, id);
  const done = importProgress(directory, id) ?? noProgress;
  const failed = !existsSync(file) ? 'file-gone' : (await digestOf(file)) === digest ? null : 'file-changed';
  if (failed !== null) return { ...asFinished(id, done), failed };

  let progress = done;
  let row = 0;
  let piece: Reading[] = [];
  let after: EpochMs | null = null;
  const refused = { ...done.refused };
  const examples = [...done.examples];
  const refuse = (reason: RowRefusal, cells: readonly string[]): void => {
    refused[reason] = (refused[reason] ?? 0) + 1;
    if (examples.length < mostExamples) examples.push({ row: row + mapping.skipRows, reason, text: cells.join(mapping.delimiter).slice(0, longestExample).toWellFormed() });
  };
  const settle = async (bytes: number): Promise<void> => {
    const outcome = piece.length === 0 ? null : await store(piece);
    if (outcome === null && piece.length > 0) refused['too-many-series'] = (refused['too-many-series'] ?? 0) + piece.length;
    const times = outcome === null ? [] : piece.map(({ at }) => at);
    progress = {
      rows: row,
      bytes,
      stored: progress.stored + (outcome?.stored ?? 0),
      duplicates: progress.duplicates + (outcome?.duplicates ?? 0),
      conflicts: progress.conflicts + (outcome?.conflicts ?? 0),
      refused: { ...refused },
      examples: [...examples],
      from: times.reduce<number | null>((least, at) => (least === null ? at : Math.min(least, at)), progress.from),
      to: times.reduce<number | null>((most, at) => (most === null ? at : Math.max(most, at)), progress.to),
    };
    sayImportProgress(directory, id, progress);
    piece = [];
    await breathe();
  };

  let bytes = 0;
  let skipped = 0;
  for await (const { cells, bytes: readBytes } of readRows(file, mapping.delimiter)) {
    if (isStopped()) return null;
    bytes = readBytes;
    if (skipped < mapping.skipRows) {
      skipped += 1;
      continue;
    }
    row += 1;
    const reading: Result<Reading, RowRefusal> | null = cells === null ? null : readRow(cells, mapping, after, now());
    if (reading?.ok === true) after = reading.value.at;
    // Settled before the program was started again.
    if (row <= done.rows) continue;
    if (reading === null) refuse('row-broken', []);
    else if (reading.ok) piece.push(reading.value);
    else refuse(reading.error, cells ?? []);
    if ((row - done.rows) % rowsAtOnce === 0) await settle(bytes);
  }
  if (isStopped()) return null;
  await settle(bytes);
  forgetImportFile(directory, id);
  return asFinished(id, progress);
};

const asFinished = (id: string, { rows, stored, duplicates, conflicts, refused, from, to }: ImportProgress): ImportFinished => ({
  id, rows, stored, duplicates, conflicts, refused: { ...refused }, from: from === null ? null : toRfc3339(from), to: to === null ? null : toRfc3339(to),
});
