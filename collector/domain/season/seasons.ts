import { localDate } from '../cure/stage.ts';
import type { Batch, Shed } from '../journal/shed.ts';
import { dayMs, type EpochMs } from '../units/time.ts';

/** One harvest: the batches whose picks follow each other. */
export interface Season {
  /** The calendar year, at the site, of its first pick. */
  readonly year: number;
  readonly firstPick: EpochMs;
  readonly lastPick: EpochMs;
  readonly batches: readonly Batch[];
}

/** Picks further apart than this belong to two harvests: no harvest pauses for four months, and none follows another sooner (assumption). */
export const seasonGapDays = 120;

/** The seasons of a shed, oldest first: a run of picks with less than `seasonGapDays` between them, in either hemisphere. Two runs that begin in one year are one. */
export const seasonsOf = (shed: Shed, zone: string): readonly Season[] => {
  const seasons: Season[] = [];
  for (const batch of [...shed.batches.values()].sort((one, other) => one.pickedAt - other.pickedAt || one.sequence - other.sequence)) {
    const open = seasons.at(-1);
    const year = localDate(batch.pickedAt, zone).year;
    if (open !== undefined && (batch.pickedAt - open.lastPick < seasonGapDays * dayMs || open.year === year)) {
      seasons[seasons.length - 1] = { ...open, lastPick: batch.pickedAt, batches: [...open.batches, batch] };
    } else seasons.push({ year, firstPick: batch.pickedAt, lastPick: batch.pickedAt, batches: [batch] });
  }
  return seasons;
};
