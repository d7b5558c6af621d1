import { z } from 'zod';
import { drumChannels } from '#domain/reading/channel.ts';
import { levels } from '#domain/reading/store.ts';
import { alert } from './alerts.ts';
import { batchSummary } from './batches.ts';
import { question } from './questions.ts';
import { positive, queryTime, slug, text } from './common.ts';
import { task } from './tasks.ts';

/** A value with its age and quality, or the reason why there is none. A value that is not current has quality `stale`. */
export const nowValue = z.union([
  z.object({
    value: z.number(),
    unit: z.string(),
    at: z.string(),
    ageS: z.number(),
    quality: z.string().meta({ description: 'good, stale (older than the probe usually speaks), or the fault' }),
    uncertainty: z.number(),
    trendPerHour: z.number().nullable(),
    source: z.enum(['probe', 'person']),
  }),
  z.object({ absent: z.enum(['no-probe', 'no-reading']) }),
]);
export type NowValue = z.infer<typeof nowValue>;

/** What the row's flag says: one word, one shape, one colour. Only a state that needs someone fills it. */
export const drumFlags = ['inside', 'caution', 'danger', 'unknown', 'done', 'empty'] as const;
export type DrumFlag = (typeof drumFlags)[number];

export const newDrum = z.strictObject({ id: slug, name: text(40), volumeL: positive(5_000), insulated: z.boolean().default(false) });

export const drum = z.object({
  id: z.string(),
  name: z.string(),
  volumeL: z.number(),
  insulated: z.boolean(),
  flag: z.object({ state: z.enum(drumFlags), word: z.string() }),
  now: z.object({ temperature: nowValue, ph: nowValue, salinity: nowValue }).catchall(nowValue),
  batch: batchSummary.nullable(),
  alerts: z.array(alert),
  nextTask: task.nullable(),
  questions: z.array(question).optional().meta({ description: 'what the readings make us ask; left out where there is nothing' }),
  revision: z.number().meta({ description: 'grows with every journal entry about this drum' }),
});
export type Drum = z.infer<typeof drum>;
export const drums = z.object({ drums: z.array(drum) });

export const readingsQuery = z.strictObject({
  channel: z.enum(drumChannels as unknown as [string, ...string[]]).default('temperature'),
  from: queryTime.optional(),
  to: queryTime.optional(),
  points: z.coerce.number().int().min(1).max(20_000).default(500),
});

export const readings = z.object({
  channel: z.string(),
  unit: z.string(),
  level: z.enum(levels),
  points: z.array(z.object({ t: z.number(), mean: z.number(), min: z.number(), max: z.number(), count: z.number() })),
  gaps: z.array(z.object({ from: z.number(), to: z.number() })).meta({ description: 'epoch ms' }),
});
export type Readings = z.infer<typeof readings>;
