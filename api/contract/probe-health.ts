import { z } from 'zod';
import { channelNames } from '#domain/reading/channel.ts';
import { probeSignKinds } from '#domain/probe/sign.ts';
import { queryTime } from './common.ts';

/** What the readings of a probe, and its calibrations, say about the probe itself. */
export const probeSign = z.object({
  kind: z.enum(probeSignKinds),
  channel: z.string(),
  value: z.number().nullable(),
  state: z.enum(['unknown', 'caution']).meta({ description: 'unknown: nothing is known of the brine by it; caution: look at it' }),
  title: z.string(),
  hint: z.string(),
});
export type ProbeSignShown = z.infer<typeof probeSign>;

export const probeHealth = z.object({
  id: z.string(),
  signs: z.array(probeSign),
  electrode: z
    .object({ at: z.string(), ageDays: z.number(), slopePercent: z.number(), offsetMv: z.number(), verdict: z.enum(['good', 'check', 'replace']) })
    .nullable()
    .meta({ description: 'as its last pH calibration found it' }),
  icePointOffC: z.number().nullable(),
  intervalS: z.number().nullable().meta({ description: 'the usual time between its readings' }),
  isFromFile: z.boolean().meta({ description: 'what it said last came from the file of a logger: it is not expected to speak' }),
  placements: z.array(z.object({ channel: z.string(), drum: z.string().nullable(), from: z.string() })).meta({ description: 'where it was, the oldest first' }),
});
export type ProbeHealth = z.infer<typeof probeHealth>;
export const probeHealths = z.object({ probes: z.array(probeHealth) });

export const probeReadingsQuery = z.strictObject({
  channel: z.enum(channelNames as unknown as [string, ...string[]]),
  from: queryTime.optional(),
  to: queryTime.optional(),
  points: z.coerce.number().int().min(1).max(20_000).default(500),
});
