import { z } from 'zod';
import type { LotRecord } from '#domain/record/lot-record.ts';
import type { Role } from './access.ts';

/** Papers of a lot stand beside the table of routes: they are files to keep. */
export const recordForms = ['json', 'html', 'pdf', 'csv'] as const;
export type RecordForm = (typeof recordForms)[number];
export const recordPath = (lot: string, form: RecordForm): string => `/records/${encodeURIComponent(lot)}.${form}`;
export const recordRoles: readonly Role[] = ['owner', 'helper', 'inspector'];
/** A4, or Letter where paper is measured in inches; only the PDF has a size. */
export const recordQuery = z.strictObject({ size: z.enum(['a4', 'letter']).default('a4') });
/** How to check a record, for everybody. */
export const howToCheckPath = '/records/how-to-check';

/** The signature covers the UTF-8 bytes of the RFC 8785 form of `record`; both in base64url, the public key as its 32 bytes. */
export interface SealedRecord {
  readonly record: LotRecord;
  readonly seal: { readonly canonicalization: 'JCS'; readonly algorithm: 'Ed25519'; readonly publicKey: string; readonly signature: string };
}
export type { LotRecord };
/** What the papers say, and how a digest is spoken: the page of a record is drawn from it. */
export { sheetOf } from '#domain/record/lot-sheet.ts';
export type { Sheet, SheetPart, SheetTable } from '#domain/record/sheet.ts';
export type { CureRibbon } from '#domain/record/ribbon.ts';
export { shortCode } from '#domain/journal/short-code.ts';
