import { z } from 'zod';
import { changeChoices } from '#domain/cure/change-plans.ts';

/** What becomes of the day the fruit is likely sweet when a change is late, left out, halved or extra. Time, not safety. */
export const lateOutcome = z.object({
  choice: z.enum(changeChoices),
  readyLikely: z.string().nullable(),
  laterDays: z.number().nullable().meta({ description: 'against the change made on its day (today, when that is past)' }),
  lowDays: z.number().nullable(),
  highDays: z.number().nullable(),
  brineL: z.number().meta({ description: 'poured from now until it is sweet' }),
  saltG: z.number(),
});

export const late = z.object({
  days: z.number().nullable().meta({ description: 'how much later it is sweet for each day the change is late; null: not known' }),
  text: z.string(),
  guess: z.boolean().meta({ description: 'true below three tastings: the starting guess dominates' }),
  outcomes: z.array(lateOutcome),
  hygiene: z.object({ limitAt: z.string(), limitHours: z.number(), source: z.string(), text: z.string() }).optional().meta({ description: 'in plain water and weak brine: a limit, not a date' }),
});
export type Late = z.infer<typeof late>;

export const task = z.object({
  id: z.string(),
  drum: z.string(),
  lot: z.string(),
  kind: z.string(),
  dueAt: z.string(),
  overdue: z.boolean(),
  title: z.string().meta({ description: 'in a few words' }),
  text: z.string(),
  needs: z.object({ brineL: z.number(), saltG: z.number(), jars: z.number() }).partial(),
  late: late.optional(),
});
export type Task = z.infer<typeof task>;
export const tasks = z.object({ tasks: z.array(task) });
