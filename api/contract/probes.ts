import { z } from 'zod';
import { drumChannels } from '#domain/reading/channel.ts';
import { slug, time } from './common.ts';

const channel = z.enum(drumChannels as unknown as [string, ...string[]]);

export const probe = z.object({
  id: z.string(),
  channels: z.array(
    z.object({
      channel: z.string(),
      unit: z.string(),
      last: z.object({ value: z.number(), at: z.string(), ageS: z.number(), quality: z.string() }).nullable(),
      count: z.number(),
      placement: z.object({ drum: z.string(), from: z.string() }).nullable(),
    }),
  ),
  presence: z.enum(['online', 'offline', 'unknown']),
  calibrations: z.array(z.record(z.string(), z.unknown())),
  health: z.enum(['ok', 'silent', 'faulty', 'unknown']),
  hasPassword: z.boolean(),
  /** Readings whose time cannot be true, within the last day: how many since the collector started, why and when the last. */
  clock: z.object({ refused: z.number(), reason: z.string(), at: z.string() }).nullable(),
});
export type Probe = z.infer<typeof probe>;
export const probes = z.object({ probes: z.array(probe) });

/** What the probe connects with; nobody can read it here again. */
export const probePassword = z.object({ probe: z.string(), name: z.string(), password: z.string() });

export const newPlacement = z.strictObject({ channel, drum: slug.nullable(), from: time.optional() });
export const placement = z.object({ probe: z.string(), channel: z.string(), drum: z.string().nullable(), from: z.string() });
