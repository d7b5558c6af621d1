import { z } from 'zod';
import { mendableTerms } from '#domain/jar/next-measurement.ts';

/** What the packed jars of a lot say: inside, outside or unknown, with the margin and everything it rests on. No approval. */
const nextCodes = ['measure-jars', 'use-meter', 'calibrate-meter', 'check-second-buffer', 'measure-again', 'measure-other-jar', 'repeat-jar', 'reduce', 'add-acid'] as const;
const discounts = ['strip', 'too-early', 'not-calibrated', 'second-buffer', 'implausible', 'in-doubt'] as const;

export const jarGate = z.object({
  verdict: z.enum(['inside', 'outside', 'unknown']),
  text: z.string(),
  margin: z.number().nullable().meta({ description: 'limit less the mean (or the worst jar) with its uncertainty; negative: too close to say, or outside' }),
  decidedBy: z.enum(['mean', 'worst-jar']).nullable(),
  limit: z.object({ id: z.string(), ph: z.number(), rule: z.string(), source: z.string() }),
  mean: z.number().nullable(),
  uncertainty: z
    .object({ buffer: z.number(), slope: z.number(), temperature: z.number(), jars: z.number(), salt: z.number(), expanded: z.number(), ofOneJar: z.number() })
    .nullable()
    .meta({ description: 'standard uncertainties, the allowance for salt, and the expanded uncertainty of the mean and of one jar, all in pH' }),
  jars: z.array(z.object({ jar: z.string().nullable(), ph: z.number(), at: z.string(), course: z.enum(['steady', 'moving', 'once']), repeatFrom: z.string().nullable() })),
  discounted: z.array(z.object({ jar: z.string().nullable(), ph: z.number(), at: z.string(), why: z.enum(discounts) })).meta({ description: 'readings that are no evidence, each with the reason' }),
  next: z
    .object({ code: z.enum(nextCodes), text: z.string(), from: z.string().nullable(), term: z.enum(mendableTerms).nullable() })
    .nullable()
    .meta({ description: 'the cheapest thing that would bring the lot nearer to an answer' }),
});
export type JarGate = z.infer<typeof jarGate>;

export const jarsOfLot = z.object({
  filled: z.number().int(),
  jarMl: z.number(),
  left: z.number().int().meta({ description: 'negative when more was written out than in: a mistake to look for' }),
  distributed: z.array(z.object({ to: z.string(), jars: z.number().int(), at: z.string() })),
  gate: jarGate,
  cautions: z.array(z.string()),
});
export type JarsOfLot = z.infer<typeof jarsOfLot>;

/** The bench trial is worked out where it is noted: on the phone in the shed. */
export { defaultTargetPh } from '#domain/acid/bench-trial.ts';
export { benchDays, benchPlan, type BenchPlan } from '#domain/jar/bench-plan.ts';
export { benchResult, type BenchReading } from '#domain/jar/bench-result.ts';
