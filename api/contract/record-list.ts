import { z } from 'zod';

/** Where a lot stands, by what an inspector asks first: what is held stands before all else, wherever it is. */
export const recordPlaces = ['recalled', 'on hold', 'in drum', 'in jars, not released', 'released', 'sold out'] as const;
export type RecordPlace = (typeof recordPlaces)[number];

export const recordListed = z.object({
  lot: z.string(),
  drum: z.string().meta({ description: 'its name' }),
  cut: z.string(),
  style: z.string(),
  maturity: z.string(),
  variety: z.string().nullable(),
  pickedAt: z.string(),
  startedAt: z.string(),
  jarredAt: z.string().nullable(),
  place: z.enum(recordPlaces),
  since: z.string().nullable(),
  by: z.string().nullable(),
  reason: z.string().nullable(),
  restsUntil: z.string().nullable().meta({ description: 'jars that are still resting' }),
  jars: z.object({ filled: z.number().int(), left: z.number().int() }).nullable(),
});
export type RecordListed = z.infer<typeof recordListed>;

/** The lots whose records the caller may read, the newest first, and what their papers are checked against. */
export const recordList = z.object({
  site: z.string(),
  zone: z.string(),
  now: z.string(),
  reader: z.string().meta({ description: 'who reads' }),
  until: z.string().nullable().meta({ description: 'when this access ends; null: it has no end' }),
  fingerprint: z.string().nullable().meta({ description: 'of the key of the site; null: there is none yet' }),
  lastSeal: z.object({ day: z.string(), at: z.string(), hash: z.string() }).nullable(),
  lots: z.array(recordListed),
});
export type RecordList = z.infer<typeof recordList>;

/** The check of everything that is written: how far it is, and what it found. */
export const verification = z.object({
  state: z.enum(['never', 'running', 'intact', 'fault', 'failed']),
  startedAt: z.string().nullable(),
  endedAt: z.string().nullable(),
  entries: z.number().int().meta({ description: 'journal entries checked' }),
  ofEntries: z.number().int(),
  days: z.number().int().meta({ description: 'sealed days checked' }),
  blocks: z.number().int(),
  ofBlocks: z.number().int().nullable(),
  text: z.string().nullable().meta({ description: 'what was found, and what cannot be told from here' }),
});
export type Verification = z.infer<typeof verification>;
