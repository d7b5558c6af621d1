import { z } from 'zod';
import { cureStyles, cuts, maturities, stages } from '#domain/cure/batch.ts';
import { lots, mixedAcid } from './acts.ts';
import { dayOrTime, openHold, positive, slug, text } from './common.ts';
import { jarsOfLot } from './jars.ts';
import { limit } from './limits.ts';
import { batchTrace, pickShare } from './picks.ts';

/** A range with its basis, or the reason why there is none: never one false date. */
export const forecast = z.union([z.object({ readyFrom: z.string(), readyLikely: z.string(), readyTo: z.string(), basis: z.string() }), z.object({ unknown: z.string() })]);
export type Forecast = z.infer<typeof forecast>;

/** Told with all else that is missing, so that a form is mended at once. */
const hasPickDay = (given: { readonly pickedAt?: unknown; readonly picks?: unknown } | null): boolean => given?.pickedAt !== undefined || (Array.isArray(given?.picks) && given.picks.length > 0);

export const newBatch = z.strictObject({
  drum: slug,
  pickedAt: dayOrTime.optional().meta({ description: 'may be left out where picks are named: then it is that of the earliest' }),
  startedAt: dayOrTime,
  cut: z.enum(cuts),
  style: z.enum(cureStyles),
  maturity: z.enum(maturities),
  variety: text(60).optional(),
  trees: z.union([text(200), z.number().int().positive(), z.array(z.union([text(40), z.number().int()])).min(1).max(200)]).optional(),
  fruitKg: positive(5_000),
  brineL: positive(5_000),
  saltGPerL: z.number().min(0).max(358),
  acid: mixedAcid.optional(),
  lots,
  picks: z.array(pickShare).max(20).optional().meta({ description: 'what of which pick went in' }),
  soak: z.strictObject({ startedAt: dayOrTime, changes: z.number().int().min(0).max(200) }).optional().meta({ description: 'fruit that lay in water before: since when, and how often its water was changed' }),
}).refine(hasPickDay, { path: ['pickedAt'], message: 'is needed where no picks are named', when: () => true });
export type NewBatch = z.infer<typeof newBatch>;

export const batchSummary = z.object({
  lot: z.string(),
  drum: z.string(),
  pickedAt: z.string(),
  startedAt: z.string(),
  cut: z.enum(cuts),
  style: z.enum(cureStyles),
  maturity: z.enum(maturities),
  variety: z.string().nullable(),
  trees: z.string().nullable(),
  fruitKg: z.number(),
  brineL: z.number(),
  saltGPerL: z.number(),
  stage: z.enum(stages),
  day: z.number().int().meta({ description: 'local days since the start; the day of the start is day 1' }),
  jarredAt: z.string().nullable(),
  readyToEatAt: z.string().nullable(),
  held: z.boolean().meta({ description: 'on hold now' }),
  jarsLeft: z.number().int().nullable().meta({ description: 'filled less given away; null while the fruit is in the drum' }),
  forecast,
});
export type BatchSummary = z.infer<typeof batchSummary>;

/** An act of the story, as the screens show it. A corrected act stays visible with `standing: false`. */
export const storyEntry = z.object({
  sequence: z.number(),
  kind: z.string(),
  at: z.string(),
  writtenAt: z.string(),
  by: z.string(),
  body: z.record(z.string(), z.unknown()),
  standing: z.boolean(),
  corrects: z.number().nullable(),
  correctedBy: z.number().nullable(),
  notUsable: z.string().optional().meta({ description: 'of a measurement: why it is no evidence and does not count as inside' }),
});
export type StoryEntry = z.infer<typeof storyEntry>;

/** An act just written, with the holds it opened: jars filled above the limit, or a sign that holds a lot. */
export const writtenEntry = storyEntry.extend({ holds: z.array(openHold).optional() });
export type WrittenEntry = z.infer<typeof writtenEntry>;

export const excursion = z.object({ alert: z.string(), rule: z.string(), quantity: z.string(), priority: z.string(), from: z.string(), to: z.string().nullable(), peak: z.number().nullable() });

export const batchDetail = batchSummary.extend({ entries: z.array(storyEntry), limits: z.array(limit), excursions: z.array(excursion), holds: z.array(openHold), jars: jarsOfLot.nullable(), trace: batchTrace });
export type BatchDetail = z.infer<typeof batchDetail>;
export const batches = z.object({ batches: z.array(batchSummary) });
