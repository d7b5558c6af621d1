import { dayMs, hourMs, type EpochMs } from '../units/time.ts';
import { dayToSealAt, type SealedDay } from './sealed-days.ts';

/** How long after its end a day waits for readings that come late (assumption): probes send what they kept when the shed is open again. */
export const graceMs = 12 * hourMs;

export interface Unsealed {
  /** The first reading that is in no block, of all; null: there is none. */
  readonly first: EpochMs | null;
  /** The first of them after the last sealed day. */
  readonly firstAfter: EpochMs | null;
}

/**
 * What is to be sealed next: the oldest day that is over and past its grace, or, at most once a day, what came late for one sealed before.
 * `lastSealedAt`: when the journal last took a seal. Null: nothing now.
 */
export const nextToSeal = (days: readonly SealedDay[], { first, firstAfter }: Unsealed, lastSealedAt: EpochMs | null, now: EpochMs, zone: string): (SealedDay & { readonly amends: boolean }) | null => {
  const isLate = first !== null && first !== firstAfter;
  if (isLate && (lastSealedAt === null || now - lastSealedAt >= dayMs / 2)) {
    const day = dayToSealAt(days, first, zone);
    return { ...day, amends: days.includes(day) };
  }
  if (firstAfter === null) return null;
  const day = dayToSealAt(days, firstAfter, zone);
  return day.to + graceMs > now ? null : { ...day, amends: false };
};
