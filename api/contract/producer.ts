import { z } from 'zod';
import { text } from './common.ts';

/** Who answers for the product and what its labels say. Rules differ by country: what must stand on a label is asked of the local authority. */
const mm = (least: number, most: number) => z.number().min(least).max(most);
const sheetFields = {
  pageWidthMm: mm(20, 500),
  pageHeightMm: mm(15, 500),
  columns: z.number().int().min(1).max(10),
  rows: z.number().int().min(1).max(30),
  marginTopMm: mm(0, 60),
  marginLeftMm: mm(0, 60),
  gapXMm: mm(0, 30),
  gapYMm: mm(0, 30),
  labelWidthMm: mm(20, 300),
  labelHeightMm: mm(15, 300),
};
interface Sheet { readonly pageWidthMm: number; readonly pageHeightMm: number; readonly columns: number; readonly rows: number; readonly marginTopMm: number; readonly marginLeftMm: number; readonly gapXMm: number; readonly gapYMm: number; readonly labelWidthMm: number; readonly labelHeightMm: number }
const slackMm = 0.01;
export const fitsPage = (sheet: Sheet): boolean =>
  sheet.marginLeftMm + sheet.columns * sheet.labelWidthMm + (sheet.columns - 1) * sheet.gapXMm <= sheet.pageWidthMm + slackMm &&
  sheet.marginTopMm + sheet.rows * sheet.labelHeightMm + (sheet.rows - 1) * sheet.gapYMm <= sheet.pageHeightMm + slackMm;
export const labelSheet = z.strictObject(sheetFields).refine(fitsPage, { message: 'does not fit on the page', path: ['labelWidthMm'] });

/** Two by four on A4, as sheets of labels are sold. */
export const defaultSheet: z.infer<typeof labelSheet> = { pageWidthMm: 210, pageHeightMm: 297, columns: 2, rows: 4, marginTopMm: 13, marginLeftMm: 5, gapXMm: 2, gapYMm: 0, labelWidthMm: 99, labelHeightMm: 67.7 };

const optional = (most: number) => text(most).nullable().default(null);
export const producer = z.strictObject({
  name: optional(120),
  address: optional(200),
  licence: optional(80),
  product: optional(120),
  formula: optional(40),
  productClass: z.strictObject({ word: z.enum(['fermented', 'acidified', 'refrigerated', 'heat-treated']), by: optional(120), on: optional(120) }).nullable().default(null),
  bestBeforeMonths: z.number().int().min(1).max(60).nullable().default(null),
  storage: optional(160),
  afterOpening: optional(160),
  origin: optional(80),
  statement: optional(300),
  webAddress: z.url({ protocol: /^https?$/ }).max(160).nullable().default(null),
  weights: z.array(z.strictObject({ jarMl: z.number().min(20).max(20_000), netG: z.number().min(1).max(50_000), drainedG: z.number().min(1).max(50_000) }).refine(({ netG, drainedG }) => drainedG < netG, { message: 'is less than the net weight', path: ['drainedG'] })).max(20).default([]),
  sheet: labelSheet.nullable().default(null),
});
export type Producer = z.infer<typeof producer>;
export const producerAnswer = z.object({ producer: producer.nullable(), note: z.string() });
export const labelNote = 'What must stand on a label differs by country and by kind of sale. Ask your local authority before you print.';

/** Sizes in the query win over the sheet of the site. */
const asNumber = (schema: z.ZodNumber) => z.string().regex(/^\d+(\.\d+)?$/, 'is a number').transform(Number).pipe(schema);
export const labelQuery = z.strictObject({
  ...Object.fromEntries(Object.entries(sheetFields).map(([name, schema]) => [name, asNumber(schema).optional()])) as { [Name in keyof typeof sheetFields]: z.ZodOptional<ReturnType<typeof asNumber>> },
  single: z.enum(['true', 'false']).optional().meta({ description: 'one label a page, as large as a label of the sheet' }),
  labels: asNumber(z.number().int().min(1).max(1_000)).optional().meta({ description: 'how many; left out: one for each jar that is here' }),
  skip: asNumber(z.number().int().min(0).max(299)).optional().meta({ description: 'places of the first sheet that are used already' }),
  proof: z.enum(['true', 'false']).optional().meta({ description: 'to look at: says NOT RELEASED across while the lot is not' }),
});
export type LabelQuery = z.infer<typeof labelQuery>;
export const labelPath = (lot: string): string => `/labels/${encodeURIComponent(lot)}.pdf`;
export const labelRoles = ['owner', 'helper'] as const;
