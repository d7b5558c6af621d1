import { z } from 'zod';
import { maturities, stages } from '#domain/cure/batch.ts';
import { maturityClasses } from '#domain/season/maturity-index.ts';
import { dayOrTime, positive, share, text, time } from './common.ts';

/** Picks: the fruit as it comes from the trees, what was sorted out, and where it went. */
const mark = z.union([text(40), z.number().int().positive()]);
const counts = z
  .array(z.number().int().min(0).max(10_000))
  .length(maturityClasses.length)
  .refine((fruits) => fruits.some((count) => count > 0), 'holds no fruit')
  .meta({ description: 'fruits counted in the maturity classes 0 to 7, from deep green to violet to the stone' });

const facts = {
  until: time.optional().meta({ description: 'when the last fruit was picked' }),
  trees: z.union([mark, z.array(mark).min(1).max(200)]).optional().meta({ description: 'marks of the trees' }),
  block: text(60).optional(),
  variety: text(60).optional(),
  massKg: positive(20_000).optional(),
  buckets: z.number().positive().max(2_000).optional(),
  bucketKg: positive(100).optional().meta({ description: 'what one bucket holds; needed where buckets are told and no mass' }),
  counts: counts.optional(),
  maturity: z.enum(maturities).optional().meta({ description: 'by eye, where nothing was counted' }),
  damage: z.record(text(40), share).optional().meta({ description: 'share of the fruit by cause, 0 to 1' }),
};
const about = { note: text(500).optional(), writtenAt: time.optional() };

export const newPick = z.strictObject({ at: dayOrTime.optional().meta({ description: 'when the first fruit was picked; left out: now' }), ...facts, ...about });
export type NewPick = z.infer<typeof newPick>;

export const pickAmendment = z.strictObject({ at: dayOrTime.optional(), ...facts, ...about, takenBack: text(300).optional().meta({ description: 'why there was no such pick after all' }) });
export type PickAmendment = z.infer<typeof pickAmendment>;

const cull = z.object({ cause: text(40), kg: positive(20_000) });
export const newSorting = z.strictObject({
  at: time.optional().meta({ description: 'left out: now' }),
  culls: z.array(cull).max(40),
  counts: counts.optional(),
  replaces: z.number().int().positive().optional().meta({ description: 'sequence of a sorting of this pick that was written wrongly' }),
  ...about,
});
export type NewSorting = z.infer<typeof newSorting>;

/** What of which pick goes into a batch. */
export const pickShare = z.object({ pick: text(20), kg: positive(20_000) });
export type PickShare = z.infer<typeof pickShare>;

export const pick = z.object({
  pick: z.string(),
  at: z.string(),
  until: z.string().nullable(),
  trees: z.array(z.string()),
  block: z.string().nullable(),
  variety: z.string().nullable(),
  pickedKg: z.number().nullable().meta({ description: 'weighed, or buckets times what one holds; null while neither is known' }),
  buckets: z.number().nullable(),
  bucketKg: z.number().nullable(),
  maturity: z.object({ stage: z.enum(maturities), index: z.number().nullable(), counts: z.array(z.number()).nullable() }).nullable().meta({ description: 'by a count, or by eye (index null)' }),
  spread: z.object({ low: z.number(), high: z.number(), wide: z.boolean() }).nullable().meta({ description: 'classes that hold the middle eight of ten fruits' }),
  damage: z.record(z.string(), z.number()),
  note: z.string().nullable(),
  by: z.string(),
  sortings: z.array(z.object({ sequence: z.number().int(), at: z.string(), by: z.string(), culls: z.array(cull), note: z.string().nullable(), standing: z.boolean() })),
  culls: z.array(cull),
  culledKg: z.number(),
  batches: z.array(z.object({ lot: z.string(), drum: z.string(), kg: z.number(), stage: z.enum(stages) })),
  inBatchesKg: z.number(),
  unaccountedKg: z.number().nullable(),
  overKg: z.number().meta({ description: 'by how much more was used than was picked' }),
  clock: z.object({ hours: z.number(), withinHours: z.number(), state: z.enum(['waiting', 'late', 'in-time', 'was-late']) }),
  warnings: z.array(z.string()),
  takenBack: z.string().nullable(),
});
export type Pick = z.infer<typeof pick>;
export const picks = z.object({ picks: z.array(pick) });

/** Where a batch comes from and where it lay. */
export const batchTrace = z.object({
  picks: z.array(z.object({ pick: z.string(), kg: z.number() })),
  soak: z.object({ startedAt: z.string(), changes: z.number().int() }).nullable(),
  from: z.object({ lot: z.string(), at: z.string() }).nullable().meta({ description: 'the lot it was split from' }),
  parts: z.array(z.object({ lot: z.string(), at: z.string(), fruitKg: z.number() })).meta({ description: 'lots that were split from it' }),
  stays: z.array(z.object({ drum: z.string(), from: z.string(), to: z.string().nullable() })).meta({ description: 'the drums it lay in, oldest first' }),
  inDrum: z.boolean(),
  brineNowL: z.number().meta({ description: 'brine in the drum as poured, after what was split off' }),
  brineShare: z.number().meta({ description: 'share of the brine that was poured before its splits; 1 where there was none' }),
  warnings: z.array(z.string()),
});
export type BatchTrace = z.infer<typeof batchTrace>;
