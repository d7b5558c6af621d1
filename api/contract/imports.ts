import { z } from 'zod';
import { decimals, delimiters, rowRefusals, timeFormats } from '#domain/logger/mapping.ts';
import { channelNames } from '#domain/reading/channel.ts';
import { slug } from './common.ts';

/** The file of a logger: handed in as it is (`POST`, the body is the file), looked at, mapped, and taken in by the collector. */
export const importUploadPath = '/imports';
export const importUploadQuery = z.strictObject({ name: z.string().trim().min(1).max(120).default('file.csv') });
export const mostImportBytes = 100 * 1_048_576;

const column = z.number().int().min(0).max(255);

export const loggerMapping = z.strictObject({
  delimiter: z.enum(delimiters),
  skipRows: z.number().int().min(0).max(1_000).meta({ description: 'rows before the first reading' }),
  timeColumns: z.array(column).min(1).max(2).meta({ description: 'one column, or date and time in two; counted from 0' }),
  timeFormat: z.enum(timeFormats),
  zone: z.string().min(1).max(60).meta({ description: 'of times without an offset: an IANA zone, or an offset such as +02:00' }),
  valueColumn: column,
  decimal: z.enum(decimals),
  unit: z.string().min(1).max(12),
  channel: z.enum(channelNames as unknown as [string, ...string[]]),
  probe: slug.meta({ description: 'the readings are kept under this probe' }),
});
export type LoggerMappingGiven = z.infer<typeof loggerMapping>;

const refusedRow = z.object({ row: z.number(), reason: z.enum(rowRefusals), words: z.string(), text: z.string() });

/** A file handed in, and its first rows as they stand. */
export const importUploaded = z.object({ id: z.string(), file: z.string(), bytes: z.number(), guess: loggerMapping.omit({ probe: true }), rows: z.array(z.array(z.string())).meta({ description: 'the first rows, cut by the delimiter' }) });
export type ImportUploaded = z.infer<typeof importUploaded>;

export const importLook = loggerMapping.partial({ probe: true });

export const importPreview = z.object({
  rows: z.array(z.array(z.string())),
  understood: z.array(z.union([z.object({ row: z.number(), at: z.string(), value: z.number(), quality: z.string() }), z.object({ row: z.number(), refused: z.enum(rowRefusals), words: z.string() })])),
  unit: z.string().meta({ description: 'in which the values are stored' }),
});
export type ImportPreview = z.infer<typeof importPreview>;

export const importReport = z.object({
  id: z.string(),
  file: z.string(),
  by: z.string(),
  orderedAt: z.string(),
  mapping: loggerMapping,
  state: z.enum(['waiting', 'reading', 'done', 'failed']),
  share: z.number().meta({ description: 'of the file that is read, 0 to 1' }),
  rows: z.number(),
  stored: z.number(),
  duplicates: z.number(),
  conflicts: z.number().meta({ description: 'rows that say something else than a reading already stored at that time; the first value stays' }),
  refused: z.array(z.object({ reason: z.enum(rowRefusals), words: z.string(), count: z.number() })),
  examples: z.array(refusedRow).meta({ description: 'the first rows refused' }),
  from: z.string().nullable(),
  to: z.string().nullable(),
  trouble: z.string().nullable(),
});
export type ImportReport = z.infer<typeof importReport>;
export const importReports = z.object({ imports: z.array(importReport) });
