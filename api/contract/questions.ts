import { z } from 'zod';
import { questionAnswers, questionKinds } from '#domain/detect/question.ts';
import { positive } from './common.ts';

/** Something the readings make us ask: once, whoever asks and however often the program starts. */
export const question = z.object({
  id: z.string(),
  drum: z.string(),
  lot: z.string(),
  kind: z.enum(questionKinds),
  at: z.string(),
  askedAt: z.string(),
  stepC: z.number().nullable(),
  entry: z.number().int().nullable().meta({ description: 'the change that left no trace' }),
  otherDrum: z.string().nullable(),
  text: z.string(),
  because: z.string(),
  yes: z.string(),
  no: z.string(),
  brine: z.object({ brineL: z.number(), saltGPerL: z.number() }).nullable().meta({ description: 'what a change is written down with where nothing else is said: as last time' }),
});
export type Question = z.infer<typeof question>;
export const questions = z.object({ questions: z.array(question) });

export const questionAnswer = z.strictObject({
  answer: z.enum(questionAnswers),
  brineL: positive(5_000).optional(),
  saltGPerL: z.number().min(0).max(358).optional(),
});
export const questionAnswered = z.object({ id: z.string(), answer: z.enum(questionAnswers), entry: z.number().int().nullable().meta({ description: 'the change that was written with it' }) });
