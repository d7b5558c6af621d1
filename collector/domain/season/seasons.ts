import { localDate } from '../cure/stage.ts';
import type { Batch, Shed } from '../journal/shed.ts';
import { dayMs, type EpochMs } from '../units/time.ts';
import type { FruitPick } from './pick.ts';

/** One harvest: picks that follow each other, and the batches they went into. */
export interface Season {
  /** The calendar year, at the site, of its first pick. */
  readonly year: number;
  readonly firstPick: EpochMs;
  readonly lastPick: EpochMs;
  /** As written down; a batch may have been started without one. */
  readonly picks: readonly FruitPick[];
  readonly batches: readonly Batch[];
}

/** Picks further apart than this belong to two harvests: no harvest pauses for four months, and none follows another sooner (assumption). */
export const seasonGapDays = 120;

/** The seasons of a shed, oldest first: a run of picks with less than `seasonGapDays` between them, in either hemisphere. Two runs that begin in one year are one. */
export const seasonsOf = (shed: Shed, zone: string): readonly Season[] => {
  const picks = [...shed.picks.values()].filter(({ takenBack }) => takenBack === null);
  const told = [
    ...picks.map((pick) => ({ at: pick.at, sequence: pick.sequence, picks: [pick], batches: [] })),
    ...[...shed.batches.values()].map((batch) => ({ at: batch.pickedAt, sequence: batch.sequence, picks: [], batches: [batch] })),
  ].sort((one, other) => one.at - other.at || one.sequence - other.sequence);
  const seasons: Season[] = [];
  for (const { at, ...more } of told) {
    const open = seasons.at(-1);
    const year = localDate(at, zone).year;
    if (open !== undefined && (at - open.lastPick < seasonGapDays * dayMs || open.year === year)) {
      seasons[seasons.length - 1] = { ...open, lastPick: at, picks: [...open.picks, ...more.picks], batches: [...open.batches, ...more.batches] };
    } else seasons.push({ year, firstPick: at, lastPick: at, picks: more.picks, batches: more.batches });
  }
  return seasons;
};
