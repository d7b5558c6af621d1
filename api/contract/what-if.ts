import { z } from 'zod';
import { whatIfChanges } from '#domain/cure/what-if.ts';
import { forecast } from './batches.ts';

/** Without a query: what a grower asks first, one thing at a time. With one: that alone. Both at once are one question. */
export const whatIfQuery = z.strictObject({
  warmerC: z.coerce.number().min(-15).max(15).optional().meta({ description: 'degrees warmer from now on than the last seven days were; below zero: cooler' }),
  changes: z.enum(whatIfChanges).optional().meta({ description: 'what becomes of the brine changes still to come; default: as planned' }),
});

export const whatIfAnswer = z.object({
  asPlanned: forecast,
  whatIfs: z.array(
    z.object({
      title: z.string(),
      warmerC: z.number(),
      changes: z.enum(whatIfChanges),
      forecast,
      laterDays: z.number().nullable().meta({ description: 'likely day against that as planned; below zero: sooner; null: not known' }),
      caution: z.string().nullable(),
    }),
  ),
  source: z.string(),
});
export type WhatIfAnswer = z.infer<typeof whatIfAnswer>;
