import { z } from 'zod';
import { alertPriorities, alertStates } from '#domain/rules/alert.ts';

export const alert = z.object({
  id: z.string(),
  drum: z.string().nullable(),
  lot: z.string().nullable(),
  rule: z.string(),
  quantity: z.string(),
  priority: z.enum(alertPriorities),
  state: z.enum(alertStates),
  since: z.string(),
  raisedAt: z.string(),
  returnedAt: z.string().nullable(),
  acknowledgedBy: z.string().nullable(),
  value: z.number().nullable(),
  peak: z.number().nullable(),
  limit: z.object({ value: z.number().nullable(), unit: z.string(), source: z.string(), side: z.enum(['high', 'low']).nullable() }),
  act: z.string().meta({ description: 'the first thing to do, in a few words' }),
  text: z.string().meta({ description: 'what is wrong' }),
  advice: z.string().meta({ description: 'what to do now' }),
});
export type Alert = z.infer<typeof alert>;

export const alertsQuery = z.strictObject({ state: z.enum([...alertStates, 'active', 'all']).default('active'), limit: z.coerce.number().int().min(1).max(1_000).default(200) });
export const alerts = z.object({ alerts: z.array(alert) });
