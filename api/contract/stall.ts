import { z } from 'zod';

/** Backwards from a stall date: by when things must be done, and which lots are on the table. It tells days and bitterness, not safety. */
export const stallQuery = z.strictObject({ date: z.iso.date().meta({ description: 'a local day, today or later' }) });

const onTheTable = z.enum(['p80', 'p50', 'no', 'unknown']);

export const stall = z.object({
  date: z.string(),
  finishBy: z.string().meta({ description: 'local morning by which a cure must be finished' }),
  jarBy: z.string(),
  releaseBy: z.string(),
  curing: z.array(
    z.object({
      lot: z.string(),
      drum: z.string(),
      onTheTable: onTheTable.meta({ description: 'p80: finished in time four times in five; p50: every other time; no; unknown: no forecast' }),
      spareDays: z.number().nullable().meta({ description: 'days between the likely finish and the latest; negative: too late by so much' }),
      readyLikely: z.string().nullable(),
      held: z.boolean(),
      text: z.string(),
    }),
  ),
  inJars: z.array(z.object({ lot: z.string(), left: z.number().int(), readyAt: z.string(), rested: z.boolean(), held: z.boolean(), verdict: z.enum(['inside', 'outside', 'unknown']), text: z.string() })),
  assumed: z.array(z.string()),
  caution: z.string(),
});
export type Stall = z.infer<typeof stall>;
