import { z } from 'zod';
import { acids } from '#domain/cure/batch.ts';
import { positive, share, slug, text, time } from './common.ts';

/** The acts on a batch, one schema a kind; each is tied to its domain type by a type test. */
const note = text(500).optional();
const writtenAt = time.optional().meta({ description: 'when it was written on paper, where it was typed in later; the time of entry is kept beside it' });
const brineL = positive(5_000);
const saltGPerL = z.number().min(0).max(358).meta({ description: 'grams of salt per litre of brine as poured; saturation is near 358' });

export const mixedAcid = z.strictObject({ acid: z.enum(acids), ml: positive(500_000), strengthPercent: z.number().positive().max(100) });

const act = <Kind extends string, Shape extends z.ZodRawShape>(kind: Kind, shape: Shape) => z.strictObject({ kind: z.literal(kind), at: time, writtenAt, note, ...shape });

export const acts = {
  'brine-changed': act('brine-changed', { brineL, saltGPerL, fraction: share.optional() }),
  'brine-topped-up': act('brine-topped-up', { brineL, saltGPerL }),
  'salt-added': act('salt-added', { saltG: positive(1_000_000) }),
  'acid-added': act('acid-added', mixedAcid.shape),
  skimmed: act('skimmed', {}),
  rinsed: act('rinsed', {}),
  tasted: act('tasted', { bitterness: z.number().min(0).max(10) }),
  observed: act('observed', { sign: text(80) }),
  measured: z.discriminatedUnion('quantity', [
    act('measured', { quantity: z.literal('ph'), value: z.number().min(0).max(14), instrument: slug.optional() }),
    act('measured', { quantity: z.literal('salinity'), value: z.number().min(0).max(360), instrument: slug.optional() }),
    act('measured', { quantity: z.literal('temperature'), value: z.number().min(-20).max(60), instrument: slug.optional() }),
  ]),
};

/** What should have been written in place of a mistaken act; null takes the act back. */
export const replacement = z.union([acts['brine-changed'], acts['brine-topped-up'], acts['salt-added'], acts['acid-added'], acts.skimmed, acts.rinsed, acts.tasted, acts.observed, acts.measured]);

export const corrected = z.strictObject({
  kind: z.literal('corrected'),
  at: time.optional(),
  entry: z.number().int().positive().meta({ description: 'sequence of the journal entry that was wrong' }),
  reason: text(500),
  replacement: replacement.nullable(),
});

export const newEntry = z.discriminatedUnion('kind', [
  acts['brine-changed'], acts['brine-topped-up'], acts['salt-added'], acts['acid-added'], acts.skimmed, acts.rinsed, acts.tasted, acts.observed, acts.measured, corrected,
]);
export type NewEntry = z.infer<typeof newEntry>;
