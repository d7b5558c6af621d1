import { z } from 'zod';
import { alert } from './alerts.ts';
import { drum } from './drums.ts';
import { health } from './site.ts';
import { task } from './tasks.ts';

/**
 * Events on `/api/live`. Each carries the whole of what changed, so a repeated event does no harm; a client that has been
 * away longer than the server remembers is simply sent everything once more.
 */
export const liveEvents = {
  drum,
  alert,
  task: z.union([task, z.object({ id: z.string(), gone: z.literal(true) })]),
  health: health.extend({ now: z.string() }),
};
export type LiveEvents = { [Name in keyof typeof liveEvents]: z.infer<(typeof liveEvents)[Name]> };
export type LiveEventName = keyof LiveEvents;
