import { z } from 'zod';
import { readinessLevels, readinessPlaces } from '#domain/readiness/finding.ts';

/** One check of the records, with what it found. */
export const readinessCheck = z.object({
  id: z.string(),
  level: z.enum(readinessLevels),
  what: z.string(),
  state: z.enum(['open', 'nothing-open', 'not-recorded']),
  why: z.string().nullable().meta({ description: 'why it could not be worked out' }),
  findings: z.array(z.object({ level: z.enum(readinessLevels), lot: z.string().nullable(), text: z.string(), act: z.string(), place: z.object({ screen: z.enum(readinessPlaces), id: z.string().nullable() }) })),
});
export type ReadinessCheck = z.infer<typeof readinessCheck>;
export const readiness = z.object({
  at: z.string(),
  checks: z.array(readinessCheck),
  open: z.object({ stop: z.number().int(), fix: z.number().int(), look: z.number().int() }),
  notRecorded: z.number().int(),
  words: z.string().meta({ description: 'the sum in a sentence; no approval' }),
  reviews: z.array(z.object({ lot: z.string().nullable(), until: z.number().int(), name: z.string(), at: z.string() })),
});
export type Readiness = z.infer<typeof readiness>;
