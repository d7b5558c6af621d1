import { z } from 'zod';
import { acids } from '#domain/cure/batch.ts';
import { handlings } from '#domain/journal/handlings.ts';
import { jarNotes } from '#domain/journal/ingredient-entries.ts';
import { jarRange } from '#domain/jar/jar-fill.ts';
import { positive, share, slug, text, time } from './common.ts';
import { moved, split } from './placing.ts';

/** The acts on a batch, one schema a kind; each is tied to its domain type by a type test. */
const note = text(500).optional();
const writtenAt = time.optional().meta({ description: 'when it was written on paper, where it was typed in later; the time of entry is kept beside it' });
const brineL = positive(5_000);
const jars = z.number().int().min(1).max(100_000);
export const lots = z.array(slug).max(20).optional().meta({ description: 'lots of salt, vinegar, jars, lids … that it used' });
const saltGPerL = z.number().min(0).max(358).meta({ description: 'grams of salt per litre of brine as poured; saturation is near 358' });

export const mixedAcid = z.strictObject({ acid: z.enum(acids), ml: positive(500_000), strengthPercent: z.number().positive().max(100) });

const act = <Kind extends string, Shape extends z.ZodRawShape>(kind: Kind, shape: Shape) => z.strictObject({ kind: z.literal(kind), at: time, writtenAt, note, ...shape });

export const acts = {
  'brine-changed': act('brine-changed', { brineL, saltGPerL, fraction: share.optional(), lots }),
  'brine-topped-up': act('brine-topped-up', { brineL, saltGPerL, lots }),
  'salt-added': act('salt-added', { saltG: positive(1_000_000), lots }),
  'acid-added': act('acid-added', { ...mixedAcid.shape, lots }),
  skimmed: act('skimmed', {}),
  rinsed: act('rinsed', {}),
  handled: act('handled', { what: z.enum(handlings), bottles: z.number().int().min(1).max(500).optional().meta({ description: 'bottles of ice, where it was cooled' }) }),
  tasted: act('tasted', { bitterness: z.number().min(0).max(10) }),
  observed: act('observed', { sign: text(80) }),
  measured: z.discriminatedUnion('quantity', [
    act('measured', { quantity: z.literal('ph'), value: z.number().min(0).max(14), instrument: slug.optional() }),
    act('measured', { quantity: z.literal('salinity'), value: z.number().min(0).max(360), instrument: slug.optional() }),
    act('measured', { quantity: z.literal('temperature'), value: z.number().min(-20).max(60), instrument: slug.optional() }),
  ]),
  jarred: act('jarred', {
    jars,
    jarMl: z.number().min(jarRange.low).max(jarRange.high),
    brine: text(200),
    acid: text(200).optional().meta({ description: 'what acid goes into the jars, in words' }),
    heat: text(200).optional(),
    coldC: z.number().min(-5).max(30).optional().meta({ description: 'the temperature the jars are to be kept at, where they are to be kept cold' }),
    saltG: positive(1_000_000).optional().meta({ description: 'salt weighed for the brine in the jars' }),
    ingredients: z.array(text(80)).max(40),
    lots,
  }),
  'jar-ph': act('jar-ph', { value: z.number().min(0).max(14), instrument: text(60), jar: text(20).optional().meta({ description: 'number or mark of the jar: readings without one all count as the same jar' }) }),
  hold: act('hold', { reason: text(500) }),
  release: act('release', { by: text(80).meta({ description: 'who answers for it' }), exception: text(500).optional().meta({ description: 'the named reason where the packed-jar rule is not met' }) }),
  distributed: act('distributed', { to: text(120), jars }),
  'jars-noted': act('jars-noted', { what: z.enum(jarNotes), jars: z.number().int().min(0).max(100_000) }),
  moved: act('moved', moved),
  split: act('split', split),
};

/** Every act, for what is written and for what replaces a mistaken one. */
const allActs = [
  acts['brine-changed'], acts['brine-topped-up'], acts['salt-added'], acts['acid-added'], acts.skimmed, acts.rinsed, acts.handled, acts.tasted, acts.observed, acts.measured,
  acts.jarred, acts['jar-ph'], acts.hold, acts.release, acts.distributed, acts['jars-noted'],
  acts.moved, acts.split,
] as const;

/** What should have been written in place of a mistaken act; null takes the act back. */
export const replacement = z.union(allActs);

export const corrected = z.strictObject({
  kind: z.literal('corrected'),
  at: time.optional(),
  entry: z.number().int().positive().meta({ description: 'sequence of the journal entry that was wrong' }),
  reason: text(500),
  replacement: replacement.nullable(),
});

export const newEntry = z.discriminatedUnion('kind', [...allActs, corrected]);
export type NewEntry = z.infer<typeof newEntry>;
