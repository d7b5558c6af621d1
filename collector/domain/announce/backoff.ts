import { hourMs, secondMs } from '../units/time.ts';

/** A failed announcement is tried again after half a minute, then after twice as long each time, at most an hour. */
const firstPauseMs = 30 * secondMs;
const longestPauseMs = hourMs;

export const pauseAfter = (failures: number): number => Math.min(longestPauseMs, firstPauseMs * 2 ** Math.max(0, failures - 1));

/** What could not be told for a day is given up: it stands in the journal, and on the screens as long as it is open. */
export const giveUpAfterMs = 24 * hourMs;
