import type { ImportPreview, ImportReport } from '#contract';
import { importProgress, noProgress } from '#collector';
import type { LoggerImport } from '#domain/journal/import-entries.ts';
import { rowRefusals, rowRefusalWords, type LoggerMapping } from '#domain/logger/mapping.ts';
import { readRow } from '#domain/logger/read-row.ts';
import { channels } from '#domain/reading/channel.ts';
import { toRfc3339, type EpochMs } from '#domain/units/time.ts';

const troubles = {
  'file-gone': 'The file is not there any more. Hand it in again; what was stored of it stays.',
  'file-changed': 'The file is not the one that was handed in, so nothing more was taken from it. Hand it in again.',
} as const;

/** One file of a logger: what stands in the journal, and how far the collector is. */
export const importReportOf = (directory: string, { id, file, by, orderedAt, mapping, bytes, finished }: LoggerImport): ImportReport => {
  const progress = importProgress(directory, id);
  const { rows, stored, duplicates, conflicts, refused } = finished ?? progress ?? noProgress;
  const { from, to } = progress ?? noProgress;
  return {
    id, file, by, orderedAt, mapping: { ...mapping, timeColumns: [...mapping.timeColumns] }, rows, stored, duplicates, conflicts,
    state: finished === null ? (progress === null ? 'waiting' : 'reading') : finished.failed === undefined ? 'done' : 'failed',
    share: finished !== null ? 1 : bytes === 0 ? 0 : Math.min((progress?.bytes ?? 0) / bytes, 1),
    refused: rowRefusals.flatMap((reason) => ((refused as Record<string, number>)[reason] === undefined ? [] : [{ reason, words: rowRefusalWords[reason], count: (refused as Record<string, number>)[reason] ?? 0 }])),
    examples: (progress?.examples ?? []).map((example) => ({ ...example, words: rowRefusalWords[example.reason] })),
    from: finished === null ? (from === null ? null : toRfc3339(from)) : finished.from,
    to: finished === null ? (to === null ? null : toRfc3339(to)) : finished.to,
    trouble: finished?.failed === undefined ? null : troubles[finished.failed],
  };
};

/** The first rows, as they would be taken in. */
export const understood = (rows: readonly (readonly string[])[], mapping: LoggerMapping, now: EpochMs): ImportPreview => {
  let after: EpochMs | null = null;
  const lines: ImportPreview['understood'] = [];
  for (const [index, cells] of rows.entries()) {
    if (index < mapping.skipRows) continue;
    const reading = readRow(cells, mapping, after, now);
    if (reading.ok) after = reading.value.at;
    lines.push(reading.ok ? { row: index + 1, at: toRfc3339(reading.value.at), value: reading.value.value, quality: reading.value.quality } : { row: index + 1, refused: reading.error, words: rowRefusalWords[reading.error] });
  }
  return { rows: rows.map((cells) => [...cells]), understood: lines, unit: channels[mapping.channel].unit };
};
