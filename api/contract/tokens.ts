import { z } from 'zod';

/** What a token opens, to read and nothing else: the calendar feed of the tasks. */
export const tokenPurposes = ['calendar'] as const;
export type TokenPurpose = (typeof tokenPurposes)[number];

export const newToken = z.strictObject({ purpose: z.enum(tokenPurposes) });
export const token = z.object({ id: z.string(), user: z.string(), purpose: z.enum(tokenPurposes), madeAt: z.string() });
/** The secret is told once: whoever loses it makes another. */
export const madeToken = token.extend({ token: z.string(), path: z.string().meta({ description: 'where a calendar subscribes, on this host' }) });
export const tokens = z.object({ tokens: z.array(token) });

/** The feed stands beside the table: its answer is not JSON, and its key is in its address. */
export const calendarPath = '/tasks.ics';
export const calendarQuery = z.strictObject({ token: z.string().regex(/^[\w-]{20,200}$/) });
