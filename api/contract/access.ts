import { z } from 'zod';
import { slug } from './common.ts';

export const roles = ['owner', 'helper', 'wall', 'inspector'] as const;
export type Role = (typeof roles)[number];

export const password = z.string().min(6).max(200);
export const signIn = z.strictObject({ name: z.string().min(1).max(40), password: z.string().min(1).max(200) });
export const setUp = z.strictObject({ code: z.string().min(1).max(40), name: slug.default('owner'), password });

/** Open to everyone: what the sign-in page needs to know. */
export const session = z.object({
  user: z.object({ name: z.string(), role: z.enum(roles) }).nullable(),
  setUpNeeded: z.boolean(),
  demo: z.object({ name: z.string(), password: z.string() }).nullable(),
});
export type Session = z.infer<typeof session>;
