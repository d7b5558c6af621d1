import { z } from 'zod';
import { jarRemedies } from '#domain/jar/may-jar.ts';
import { slugPattern } from '#domain/reading/reading.ts';

/** Pieces the schemas share. Times in answers are RFC 3339 UTC; a request may give another offset or, where a day is meant, a date. */
export const slug = z.string().regex(slugPattern, 'use lower-case letters, digits and dashes, at most 40').meta({ description: 'A slug given by people, such as barrel-2' });

/** Outside these years a time is a typing mistake, and could not be written again in four digits of year. */
const isPlausible = (given: string): boolean => {
  const year = new Date(given).getUTCFullYear();
  // What is no time at all has been told by its form.
  return Number.isNaN(year) || (year >= 2000 && year <= 2100);
};
const yearMessage = 'lies outside the years 2000 to 2100';

export const time = z.iso.datetime({ offset: true }).refine(isPlausible, yearMessage).meta({ description: 'RFC 3339' });

export const dayOrTime = z
  .union([z.iso.datetime({ offset: true }), z.iso.date()])
  .refine(isPlausible, yearMessage)
  .meta({ description: 'RFC 3339 date-time, or a date (its start in the zone of the site)' });

/** The header by which the sender of an act marks it, so that sending it again writes nothing twice (IETF draft, The Idempotency-Key HTTP Header Field). */
export const keyHeader = 'Idempotency-Key';
export const keyPattern = /^[A-Za-z0-9-]{16,64}$/;

/** Text a person typed: trimmed, bounded, and without half characters, which canonical JSON cannot hold. */
export const text = (most: number) =>
  z
    .string()
    .trim()
    .min(1)
    .max(most)
    .refine((typed) => !/[\uD800-\uDBFF](?![\uDC00-\uDFFF])|(?<![\uD800-\uDBFF])[\uDC00-\uDFFF]/.test(typed), 'holds half a character');

export const positive = (most: number) => z.number().positive().max(most);

export const share = z.number().min(0).max(1);

/** Times in queries: RFC 3339 or epoch milliseconds. */
export const queryTime = z.union([z.iso.datetime({ offset: true }), z.string().regex(/^\d{1,15}$/)]).meta({ description: 'RFC 3339 or epoch milliseconds' });

/** Why a lot may not leave: written as a hold, or following from a sign that was observed. */
export const openHold = z.object({ entry: z.number().int(), at: z.string(), by: z.string(), reason: z.string(), from: z.enum(['hold', 'sign']) });
export type OpenHold = z.infer<typeof openHold>;

export const problem = z.object({
  type: z.string(),
  title: z.string(),
  status: z.number().int(),
  code: z.string(),
  detail: z.string(),
  errors: z.array(z.object({ path: z.string(), message: z.string() })).optional(),
  rule: z.object({ id: z.string(), ph: z.number(), text: z.string(), source: z.string() }).optional().meta({ description: 'the rule by which it was refused' }),
  instead: z.array(z.enum(jarRemedies)).optional().meta({ description: 'what may be done instead' }),
  holds: z.array(openHold).optional().meta({ description: 'what the lot is held for' }),
  didYouMean: z.array(z.string()).optional().meta({ description: 'codes near the one that is not known' }),
});
export type Problem = z.infer<typeof problem>;
