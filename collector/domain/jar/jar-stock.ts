import type { StoryAct } from '../journal/shed.ts';
import { isAct } from '../journal/shed.ts';
import type { JarNote } from '../journal/ingredient-entries.ts';
import type { EpochMs } from '../units/time.ts';

export interface JarStock {
  readonly jarred: number;
  readonly distributed: number;
  /** Gone without a buyer, by what became of them. */
  readonly otherwise: Readonly<Record<Lost, number>>;
  readonly returned: number;
  /** Still with buyers: distributed less returned. */
  readonly out: number;
  /** What should be here, those that came back among them; negative when more was written out than in: a mistake to look for, never hidden. */
  readonly left: number;
  readonly to: readonly { readonly to: string; readonly jars: number; readonly at: EpochMs }[];
}

/** Ways in which a jar is gone without a buyer. */
export const lostWays = ['tested', 'broken', 'gift', 'own use', 'spoiled'] as const satisfies readonly JarNote[];
export type Lost = (typeof lostWays)[number];

/** Jars of a lot that were filled, left and are still here, by the standing acts up to a time. */
export const jarStock = (acts: readonly StoryAct[], now: EpochMs): JarStock => {
  const past = acts.filter(({ at }) => at <= now);
  const jarred = past.filter(isAct('jarred')).reduce((sum, { body }) => sum + body.jars, 0);
  const to = past.filter(isAct('distributed')).map(({ at, body }) => ({ to: body.to, jars: body.jars, at }));
  const distributed = to.reduce((sum, { jars }) => sum + jars, 0);
  const notes = past.filter(isAct('jars-noted'));
  const noted = (what: JarNote): number => notes.filter(({ body }) => body.what === what).reduce((sum, { body }) => sum + body.jars, 0);
  const otherwise = { tested: noted('tested'), broken: noted('broken'), gift: noted('gift'), 'own use': noted('own use'), spoiled: noted('spoiled') };
  const returned = noted('returned');
  const out = distributed - returned;
  const left = jarred - out - lostWays.reduce((sum, way) => sum + otherwise[way], 0);
  return { jarred, distributed, otherwise, returned, out, left, to };
};
