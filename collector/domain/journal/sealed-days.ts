import { fromRfc3339, type EpochMs } from '../units/time.ts';
import type { EntryOf } from './entry.ts';

/** A local day with its bounds, and the journal entries that seal it: the first, then those of what came late. */
export interface SealedDay {
  readonly day: string;
  readonly from: EpochMs;
  readonly to: EpochMs;
  readonly entries: readonly number[];
}

/** In the order of time; they never overlap. */
export const withSeal = (days: readonly SealedDay[], { sequence, body: seal }: EntryOf<'day-sealed'>): readonly SealedDay[] => {
  const from = fromRfc3339(seal.from);
  const known = days.findIndex((each) => each.from === from);
  if (known !== -1) return days.map((each, index) => (index === known ? { ...each, entries: [...each.entries, sequence] } : each));
  const added = { day: seal.day, from, to: fromRfc3339(seal.to), entries: [sequence] };
  // Nearly always the newest.
  const before = days.findLastIndex((each) => each.from < from) + 1;
  return [...days.slice(0, before), added, ...days.slice(before)];
};

/**
 * The day a moment belongs to for sealing: the sealed one that holds it, or its local day as far as no sealed day has it already, so that
 * a site that moves to another zone leaves no hour out and seals none twice.
 */
export const dayToSealAt = (days: readonly SealedDay[], at: EpochMs, zone: string): SealedDay => {
  const earlier = days.findLast((each) => each.from <= at);
  if (earlier !== undefined && at < earlier.to) return earlier;
  const date = Temporal.Instant.fromEpochMilliseconds(at).toZonedDateTimeISO(zone).toPlainDate();
  const midnight = (of: Temporal.PlainDate): EpochMs => of.toZonedDateTime({ timeZone: zone }).epochMilliseconds;
  const later = days.find((each) => each.from > at);
  return { day: date.toString(), from: Math.max(midnight(date), earlier?.to ?? Number.NEGATIVE_INFINITY), to: Math.min(midnight(date.add({ days: 1 })), later?.from ?? Number.POSITIVE_INFINITY), entries: [] };
};
