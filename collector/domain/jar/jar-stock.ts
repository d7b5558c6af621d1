import type { StoryAct } from '../journal/shed.ts';
import { isAct } from '../journal/shed.ts';
import type { EpochMs } from '../units/time.ts';

export interface JarStock {
  readonly jarred: number;
  readonly distributed: number;
  /** Jarred less distributed; negative when more was written out than in: a mistake to look for, never hidden. */
  readonly left: number;
  readonly to: readonly { readonly to: string; readonly jars: number; readonly at: EpochMs }[];
}

/** Jars of a lot that were filled, left and are still here, by the standing acts up to a time. */
export const jarStock = (acts: readonly StoryAct[], now: EpochMs): JarStock => {
  const past = acts.filter(({ at }) => at <= now);
  const jarred = past.filter(isAct('jarred')).reduce((sum, { body }) => sum + body.jars, 0);
  const to = past.filter(isAct('distributed')).map(({ at, body }) => ({ to: body.to, jars: body.jars, at }));
  const distributed = to.reduce((sum, { jars }) => sum + jars, 0);
  return { jarred, distributed, left: jarred - distributed, to };
};
