import type { Maturity } from '../cure/batch.ts';
import { hourMs, type EpochMs } from '../units/time.ts';

/** Fruit heats and bruises in its crates: green fruit is in brine or water within two days, black fruit within one (common practice, no source). */
export const processWithinHours = { green: 48, turning: 48, black: 24 } as const satisfies Record<Maturity, number>;

/** What is not known is taken as the softest fruit there is. */
const unknownMaturity: Maturity = 'black';

/** How long the fruit of a pick has waited, or waited, for its brine. */
export interface PickClock {
  readonly hours: number;
  readonly withinHours: number;
  readonly state: 'waiting' | 'late' | 'in-time' | 'was-late';
}

export interface PickedFruit {
  readonly at: EpochMs;
  readonly maturity: Maturity | null;
  /** When the last of its fruit went into brine or water; null while fruit waits. */
  readonly processedAt: EpochMs | null;
}

/**
 * The clock from pick to processing: from the first fruit picked to the last fruit in its liquid.
 * Units: hours. Example: green fruit picked yesterday at 9 waits 30 h at 15 h today, of 48.
 */
export const pickClock = ({ at, maturity, processedAt }: PickedFruit, now: EpochMs): PickClock => {
  const withinHours = processWithinHours[maturity ?? unknownMaturity];
  const hours = Math.max(0, ((processedAt ?? now) - at) / hourMs);
  const isLate = hours > withinHours;
  return { hours, withinHours, state: processedAt === null ? (isLate ? 'late' : 'waiting') : isLate ? 'was-late' : 'in-time' };
};
