import { z } from 'zod';
import { alertPriorities, alertStates } from '#domain/rules/alert.ts';
import { text } from './common.ts';

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
  shelf: z.object({ by: z.string(), until: z.string(), reason: z.string() }).nullable(),
  actions: z.array(z.object({ at: z.string(), by: z.string(), text: z.string(), disposition: z.string().nullable() })),
  limit: z.object({ value: z.number().nullable(), unit: z.string(), source: z.string(), side: z.enum(['high', 'low']).nullable() }),
  act: z.string().meta({ description: 'the first thing to do, in a few words' }),
  text: z.string().meta({ description: 'what is wrong' }),
  advice: z.string().meta({ description: 'what to do now' }),
});
export type Alert = z.infer<typeof alert>;

export const alertsQuery = z.strictObject({ state: z.enum([...alertStates, 'active', 'all']).default('active'), limit: z.coerce.number().int().min(1).max(1_000).default(200) });
export const alerts = z.object({ alerts: z.array(alert) });

/** How long an alert may be put aside at most: a week, so that nothing is forgotten on the shelf. */
const longestShelfMinutes = 7 * 24 * 60;
export const shelve = z.strictObject({ minutes: z.number().int().min(1).max(longestShelfMinutes), reason: text(300) });
export const alertAction = z.strictObject({ text: text(500), disposition: text(200).optional() });

/** A limit of a drum that is not judged for now. */
export const outOfService = z.object({ drum: z.string(), limit: z.string(), reason: z.string(), by: z.string(), since: z.string() });
export const outOfServiceList = z.object({ outOfService: z.array(outOfService) });
export const setOutOfService = z.strictObject({ reason: text(300) });

export const measuresQuery = z.strictObject({ days: z.coerce.number().int().min(1).max(400).default(30) });
const frequent = z.object({ rule: z.string(), drum: z.string().nullable(), count: z.number(), share: z.number() });
/** The measures of ISA-18.2 and IEC 62682, over the last days. Shares are from 0 to 1. */
export const alertMeasures = z.object({
  from: z.string(),
  to: z.string(),
  count: z.number(),
  perDay: z.number(),
  mostInTenMinutes: z.number(),
  busyShare: z.number().meta({ description: 'ten-minute periods with more than ten' }),
  floodShare: z.number().meta({ description: 'time in flood' }),
  chattering: z.array(frequent),
  stale: z.number().meta({ description: 'open for more than a day now' }),
  byPriority: z.record(z.enum(alertPriorities), z.number()),
  mostFrequent: z.array(frequent),
  mostFrequentShare: z.number(),
});
export type AlertMeasures = z.infer<typeof alertMeasures>;
