import { z } from 'zod';
import { cureStyles, stages } from '#domain/cure/batch.ts';
import { alertPriorities } from '#domain/rules/alert.ts';
import { limitKinds } from '#domain/rules/limit.ts';
import { text } from './common.ts';

export const limit = z.object({
  id: z.string(),
  kind: z.enum(limitKinds),
  quantity: z.string(),
  unit: z.string(),
  stage: z.enum(stages).nullable(),
  style: z.enum(cureStyles).nullable(),
  low: z.number().nullable(),
  high: z.number().nullable(),
  deadband: z.number(),
  onDelayS: z.number(),
  offDelayS: z.number(),
  priority: z.enum(alertPriorities),
  source: z.string(),
});
export type Limit = z.infer<typeof limit>;

/** What a person may change. A changed number needs its own source, so that no limit stands without one. */
export const limitChange = z
  .strictObject({
    low: z.number().nullable(),
    high: z.number().nullable(),
    deadband: z.number().min(0).max(100),
    onDelayS: z.number().int().min(0).max(604_800),
    offDelayS: z.number().int().min(0).max(604_800),
    priority: z.enum(alertPriorities),
    source: text(300),
  })
  .partial()
  .refine((change) => Object.keys(change).length > 0, { error: 'says nothing to change', when: ({ issues }) => issues.length === 0 });
export const limits = z.object({ limits: z.array(limit.extend({ drum: z.string().nullable() })) });
