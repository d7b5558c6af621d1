import { isAct, type Batch, type StoryAct } from '../journal/shed.ts';
import type { EpochMs } from '../units/time.ts';

/**
 * The brine in the drum, as poured: what people wrote down, mixed by volume, with nothing yet taken up by the fruit.
 * Flesh water thins a fresh brine (10 % falls to about 6 % in a few days), so the true strength is lower; a measurement beats it.
 */
export interface PouredBrine {
  readonly brineL: number;
  readonly saltGPerL: number;
  /** When the brine (all of it, or at least half) was last renewed. */
  readonly renewedAt: EpochMs;
}

/** A smaller change freshens a brine but does not restart its age (assumption). */
export const renewingFraction = 0.5;

export const pouredAtStart = (batch: Pick<Batch, 'opened' | 'saltGPerL' | 'startedAt'>): PouredBrine => ({ brineL: batch.opened.brineL, saltGPerL: batch.saltGPerL, renewedAt: batch.startedAt });

/** The brine after one more act; acts that put nothing into the drum leave it as it is. `lineage`: of the batch, which tells whether it left by a split or stayed. */
export const afterAct = (brine: PouredBrine, act: StoryAct, { lineage }: Pick<Batch, 'lineage'>): PouredBrine => {
  if (isAct('brine-changed')(act)) {
    const fraction = act.body.fraction ?? 1;
    return {
      brineL: fraction === 1 ? act.body.brineL : brine.brineL,
      saltGPerL: (1 - fraction) * brine.saltGPerL + fraction * act.body.saltGPerL,
      renewedAt: fraction >= renewingFraction ? act.at : brine.renewedAt,
    };
  }
  // What is topped up replaces what was lost: the volume stays, the strength mixes.
  if (isAct('brine-topped-up')(act)) {
    const { brineL, saltGPerL } = act.body;
    return { ...brine, saltGPerL: (brine.saltGPerL * brine.brineL + saltGPerL * brineL) / (brine.brineL + brineL) };
  }
  // What is split keeps its strength and its age.
  if (isAct('split')(act)) return { ...brine, brineL: lineage.includes(act.body.into) ? act.body.brineL : brine.brineL - act.body.brineL };
  if (isAct('salt-added')(act)) return { ...brine, saltGPerL: brine.saltGPerL + act.body.saltG / brine.brineL };
  return brine;
};

/** The brine in the drum at a time, from the acts that happened by then. */
export const brineAt = (batch: Batch, now: EpochMs): PouredBrine => batch.acts.reduce((brine, act) => (act.at <= now ? afterAct(brine, act, batch) : brine), pouredAtStart(batch));

/** Plain water: a trace of salt, as tap water or a rinsed scoop leaves, is still water (assumption). */
export const plainWaterGPerL = 1;
export const isPlainWater = (brine: PouredBrine): boolean => brine.saltGPerL <= plainWaterGPerL;
