import { minuteMs, type EpochMs } from '../units/time.ts';

/** ISA-18.2 counts a flood from more than ten alarms within ten minutes (figure from memory of the standard); here the tenth begins it. */
export const floodMs = 10 * minuteMs;
export const floodCount = 10;
/** In a flood a high alert waits for the next message this long at most. */
const highWaitsMs = minuteMs;

export interface FloodInput {
  readonly recent: readonly { readonly at: EpochMs; readonly alerts: number }[];
  readonly pending: number;
  readonly anyHigh: boolean;
  readonly now: EpochMs;
}

/** tell: as it comes. digest: one message for all. wait: the last message is too young. */
export const floodVerdict = ({ recent, pending, anyHigh, now }: FloodInput): 'tell' | 'digest' | 'wait' => {
  const within = recent.filter(({ at }) => now - at < floodMs);
  const told = within.reduce((sum, { alerts }) => sum + alerts, 0);
  if (told + pending < floodCount) return 'tell';
  const last = within.at(-1)?.at ?? Number.NEGATIVE_INFINITY;
  return now - last >= (anyHigh ? highWaitsMs : floodMs) ? 'digest' : 'wait';
};
