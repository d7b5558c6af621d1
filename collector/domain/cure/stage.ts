import { isAct, type Batch } from '../journal/shed.ts';
import { dayMs, type EpochMs } from '../units/time.ts';
import { restDays, sweetBitterness, type Stage } from './batch.ts';
import { brineAt, isPlainWater } from './brine.ts';

/**
 * Where a batch stands in its cure, from its journal alone: what was poured, what was tasted, when it was jarred.
 * The latest standing tasting decides whether it is sweet: a later, bitterer one puts the batch back to work.
 */
export const stageAt = (batch: Batch, now: EpochMs): Stage => {
  if (batch.jarredAt !== null && batch.jarredAt <= now) return now < restOver(batch.jarredAt) ? 'rest' : 'ready';
  const tasted = batch.acts.filter(isAct('tasted')).findLast(({ at }) => at <= now);
  if (tasted !== undefined && tasted.body.bitterness <= sweetBitterness) return 'hold';
  if (batch.style === 'kept-brine') return 'ferment';
  if (batch.style === 'water-then-brine' && isPlainWater(brineAt(batch, now))) return 'soak';
  return 'leach';
};

/** When jars filled at a time have rested. */
export const restOver = (jarredAt: EpochMs): EpochMs => jarredAt + restDays * dayMs;

export const localDate = (at: EpochMs, zone: string): Temporal.PlainDate => Temporal.Instant.fromEpochMilliseconds(at).toZonedDateTimeISO(zone).toPlainDate();

/** The day of the cure as people count it: the local day of the start is day 1, whatever the hour; 0 and below before it. */
export const dayOf = (batch: Batch, now: EpochMs, zone: string): number => localDate(batch.startedAt, zone).until(localDate(now, zone), { largestUnit: 'days' }).days + 1;
