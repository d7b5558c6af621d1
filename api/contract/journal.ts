import { z } from 'zod';

/** As stored: whoever reads it can recompute the hash over the RFC 8785 form of every field but `hash`. */
export const journalEntry = z.object({
  sequence: z.number(),
  time: z.string(),
  who: z.string(),
  kind: z.string(),
  body: z.record(z.string(), z.unknown()),
  previousHash: z.string(),
  hash: z.string(),
});
export type JournalEntry = z.infer<typeof journalEntry>;
export const journal = z.object({ entries: z.array(journalEntry) });
export const journalQuery = z.strictObject({ after: z.coerce.number().int().min(0).default(0), limit: z.coerce.number().int().min(1).max(1_000).default(200) });
