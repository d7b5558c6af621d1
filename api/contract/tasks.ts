import { z } from 'zod';

export const task = z.object({
  id: z.string(),
  drum: z.string(),
  lot: z.string(),
  kind: z.string(),
  dueAt: z.string(),
  overdue: z.boolean(),
  title: z.string().meta({ description: 'in a few words' }),
  text: z.string(),
  needs: z.object({ brineL: z.number(), saltG: z.number() }).partial(),
});
export type Task = z.infer<typeof task>;
export const tasks = z.object({ tasks: z.array(task) });
