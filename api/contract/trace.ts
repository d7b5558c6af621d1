import { z } from 'zod';
import { traceKinds } from '#domain/trace/graph.ts';
import { text, time } from './common.ts';
import { ingredientBalance } from './stores.ts';

/** Both ways from one thing: what it came from, what it became, and whether the amounts add up. */
const which = { lot: text(40).optional(), ingredient: text(60).optional(), pick: text(40).optional(), probe: text(60).optional() };
const exactlyOne = (asked: Readonly<Record<string, unknown>>): boolean => Object.values(asked).filter((value) => value !== undefined).length === 1;
export const traceQuery = z.strictObject(which).refine(exactlyOne, 'name one of lot, ingredient, pick or probe');

const jarBalance = z.object({
  filled: z.number().int(),
  sold: z.number().int().meta({ description: 'with buyers now' }),
  tested: z.number().int(),
  broken: z.number().int(),
  otherwise: z.number().int().meta({ description: 'gifts, own use, spoiled' }),
  returned: z.number().int(),
  onHand: z.number().int(),
  unaccounted: z.number().int(),
  percentLocated: z.number(),
  countedAt: z.string().nullable().meta({ description: 'null: nobody counted, so what should be here is taken for what is here' }),
  verdict: z.enum(['balances', 'does-not-balance']),
});

const fruitBalance = z.object({
  pickedKg: z.number(),
  culledKg: z.number(),
  expectedKg: z.number(),
  foundKg: z.number(),
  unaccountedKg: z.number(),
  uncertaintyKg: z.number(),
  percent: z.number(),
  percentUncertainty: z.number(),
  assumed: z.array(z.string()),
  verdict: z.enum(['balances', 'does-not-balance']),
});

export const trace = z.object({
  of: z.object({ kind: z.enum(['lot', 'ingredient', 'pick', 'probe']), id: z.string() }),
  start: z.string(),
  nodes: z.array(z.object({ id: z.string(), kind: z.enum(traceKinds), name: z.string(), lines: z.array(z.string()), at: z.string().nullable(), side: z.enum(['start', 'back', 'forward']) })),
  edges: z.array(z.object({ from: z.string(), to: z.string(), words: z.string(), at: z.string().nullable(), split: z.boolean() })),
  balances: z.array(z.object({ lot: z.string(), jars: jarBalance, fruit: fruitBalance })),
  ingredient: ingredientBalance.extend({ unit: z.string() }).nullable(),
  kin: z.array(z.object({ lot: z.string(), through: z.array(z.string()) })).meta({ description: 'other lots that share a pick or an ingredient lot with this one' }),
  tookMs: z.number(),
});
export type Trace = z.infer<typeof trace>;
export type TraceNode = Trace['nodes'][number];

export const newRecallExercise = z
  .strictObject({
    lot: which.lot,
    ingredient: which.ingredient,
    startedAt: time.optional().meta({ description: 'when somebody began to look; left out: now' }),
    gaps: text(1_000).optional().meta({ description: 'what was found wanting' }),
    action: text(1_000).optional().meta({ description: 'what is done about it' }),
  })
  .refine(({ lot, ingredient }) => exactlyOne({ lot, ingredient }), 'name a lot or an ingredient');
export type NewRecallExercise = z.infer<typeof newRecallExercise>;

export const recallExercise = z.object({
  number: z.number().int(),
  of: z.object({ kind: z.enum(['lot', 'ingredient']), id: z.string() }),
  startedAt: z.string(),
  endedAt: z.string(),
  minutes: z.number(),
  tookMs: z.number(),
  result: z.object({
    lots: z.array(z.object({ lot: z.string(), filled: z.number(), out: z.number(), otherwise: z.number(), here: z.number(), counted: z.boolean(), unaccounted: z.number() })),
    buyers: z.array(z.object({ to: z.string(), lot: z.string(), jars: z.number(), at: z.string() })),
    inDrums: z.array(z.object({ lot: z.string(), drum: z.string() })),
    sources: z.array(z.object({ kind: z.enum(['pick', 'ingredient']), name: z.string(), words: z.string() })),
    filled: z.number(),
    located: z.number(),
    unaccounted: z.number(),
  }),
  gaps: z.string().optional(),
  action: z.string().optional(),
  by: z.string().optional(),
});
export type RecallExercise = z.infer<typeof recallExercise>;
export const recallExercises = z.object({ exercises: z.array(recallExercise) });

export const recallPaperPath = (number: number): string => `/recall-exercises/${String(number)}.pdf`;
export { traceKinds, type TraceKind } from '#domain/trace/graph.ts';
