import { inDrum, type Stage } from '../cure/batch.ts';
import { brineAt } from '../cure/brine.ts';
import { stageAt } from '../cure/stage.ts';
import { outOfServiceKey, type Batch, type LimitChanges } from '../journal/shed.ts';
import type { Slug } from '../reading/reading.ts';
import type { EpochMs } from '../units/time.ts';
import { defaultLimits } from './default-limits.ts';
import type { Limit } from './limit.ts';

/**
 * Below this a brine is weak: limits of plain water stand for it. 6 % weight by volume, the basis of the published tables for olives
 * and of brine as it is poured. The brine as poured decides, though the fruit takes its share, because it is what is always known.
 */
export const weakBrineGPerL = 60;

/** The limits of the site, or as they stand for one drum: defaults, then changes for the site, then changes for the drum. */
export const limitsOf = (changes: LimitChanges, drum: Slug | null): readonly Limit[] => {
  const own = drum === null ? undefined : changes.drums.get(drum);
  if (changes.site.size === 0 && own === undefined) return defaultLimits;
  return defaultLimits.map((limit) => ({ ...limit, ...changes.site.get(limit.id), ...own?.get(limit.id) }));
};

/** Whose limits stand for a batch: its stage, with weak brine counted as water. Kept brine has limits of salt of its own. */
export const limitStages = (batch: Batch, now: EpochMs): readonly Stage[] => {
  const stage = stageAt(batch, now);
  if (batch.style === 'kept-brine' || brineAt(batch, now).saltGPerL >= weakBrineGPerL) return [stage];
  if (stage === 'leach') return ['soak'];
  return stage === 'hold' ? ['soak', 'hold'] : [stage];
};

/** The limits that stand for a drum now: none while there is no fruit in it. Several on one side of a quantity all stand. */
export const limitsInForce = (changes: LimitChanges, drum: Slug, batch: Batch | null, now: EpochMs): readonly Limit[] => {
  if (batch === null || !inDrum.has(stageAt(batch, now))) return [];
  const stages = limitStages(batch, now);
  return limitsOf(changes, drum).filter(
    ({ id, kind, stage, style }) => kind !== 'collector' && kind !== 'outlet' && !changes.outOfService.has(outOfServiceKey(drum, id)) && (stage === null || stages.includes(stage)) && (style === null || style === batch.style),
  );
};

/** The strictest limit on each side of a quantity: what a screen draws as the safe range. */
export const strictest = (limits: readonly Limit[], quantity: string): { readonly low: Limit | null; readonly high: Limit | null } => {
  let low: Limit | null = null;
  let high: Limit | null = null;
  for (const limit of limits) {
    if (limit.kind !== 'range' || limit.quantity !== quantity || limit.priority === 'note') continue;
    if (limit.low !== null && (low?.low == null || limit.low > low.low)) low = limit;
    if (limit.high !== null && (high?.high == null || limit.high < high.high)) high = limit;
  }
  return { low, high };
};
