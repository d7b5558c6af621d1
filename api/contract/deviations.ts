import { z } from 'zod';
import { dispositions } from '#domain/deviation/deviation.ts';
import { text, time } from './common.ts';

export { dispositions, type Disposition } from '#domain/deviation/deviation.ts';
export { dispositionWords } from '#domain/deviation/words.ts';

const closing = z.object({
  at: z.string(), by: z.string(), name: z.string(), cause: z.string(), action: z.string(), prevention: z.string().nullable(),
  disposition: z.enum(dispositions), evaluation: z.string().nullable(),
});

/** A time outside a critical limit, with its number in the log of the site. */
export const deviation = z.object({
  number: z.string(),
  entry: z.number().int(),
  openedAt: z.string(),
  lot: z.string(),
  drum: z.string().nullable(),
  alert: z.string().nullable(),
  limit: z.string(),
  quantity: z.string(),
  bound: z.object({ value: z.number().nullable(), unit: z.string(), source: z.string(), side: z.enum(['high', 'low']).nullable() }),
  from: z.string(),
  to: z.string().nullable(),
  worst: z.number().nullable(),
  actions: z.array(z.object({ at: z.string(), by: z.string(), text: z.string() })),
  closed: closing.nullable(),
  earlierClosings: z.array(closing).meta({ description: 'closings that a later one took the place of' }),
});
export type Deviation = z.infer<typeof deviation>;
export const deviations = z.object({ deviations: z.array(deviation) });
export const deviationsQuery = z.strictObject({ state: z.enum(['open', 'closed', 'all']).default('all'), lot: text(40).optional() });

export const deviationAction = z.strictObject({ text: text(500) });
export const closeDeviation = z.strictObject({
  cause: text(500),
  action: text(500),
  prevention: text(500).optional(),
  disposition: z.enum(dispositions),
  by: text(80).meta({ description: 'who answers for it' }),
  evaluation: text(500).optional().meta({ description: 'who judged the product, with what competence, and what was found; needed where the product is released' }),
});

export const newRecall = z.strictObject({ reason: text(500), at: time.optional() });
/** A lot called back, with where its jars went. */
export const recall = z.object({
  lot: z.string(),
  at: z.string(),
  by: z.string(),
  reason: z.string(),
  lots: z.array(z.string()).meta({ description: 'the lot and the parts that were split from it' }),
  filled: z.number().int(),
  left: z.number().int(),
  out: z.array(z.object({ lot: z.string(), entry: z.number().int(), at: z.string(), to: z.string(), jars: z.number().int() })),
});
export type Recall = z.infer<typeof recall>;
export const recalls = z.object({ recalls: z.array(recall) });

export const newReview = z.strictObject({ lot: text(40).nullable().default(null), name: text(80), until: z.number().int().positive().optional(), found: text(500).optional() });
export const review = z.object({ lot: z.string().nullable(), until: z.number().int(), name: z.string(), found: z.string().nullable(), by: z.string(), at: z.string() });
export const reviews = z.object({ reviews: z.array(review) });
