import { z } from 'zod';
import { cureStyles } from '#domain/cure/batch.ts';
import { media } from '#domain/cure/schedules.ts';
import { text } from './common.ts';

/** Days between changes: the first ones, then those that repeat in turn for as long as the fruit is leached. */
const days = z.number().int().min(1).max(365);
const shape = { afterDays: z.array(days).max(60), thenEveryDays: z.array(days).min(1).max(14) };

export const schedule = z.object({
  style: z.enum(cureStyles),
  medium: z.enum(media),
  steps: z.object({ ...shape, source: z.string() }),
  own: z.boolean().meta({ description: 'set by the site; otherwise the default' }),
  setBy: z.string().nullable(),
  setAt: z.string().nullable(),
  usual: z.object({ ...shape, source: z.string() }).meta({ description: 'the default' }),
  caution: z.string().nullable(),
});
export type Schedule = z.infer<typeof schedule>;
export const schedules = z.object({ schedules: z.array(schedule) });

/** `steps: null` goes back to the default. A schedule without a source is under the name of who set it. */
export const scheduleChange = z.strictObject({ medium: z.enum(media), steps: z.strictObject({ ...shape, source: text(300).optional() }).nullable() });
