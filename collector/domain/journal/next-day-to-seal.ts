import { hourMs, type EpochMs } from '../units/time.ts';

/** How long after its end a day waits for readings that come late (assumption): probes send what they kept when the shed is open again. */
export const graceMs = 12 * hourMs;

export interface LocalDay {
  /** The local date, `2026-05-03`. */
  readonly day: string;
  readonly from: EpochMs;
  readonly to: EpochMs;
}

/**
 * The oldest local day that is over, past its grace and not sealed yet; null where there is none.
 * `sealedUntil`: the end of the last sealed day; `since`: the first reading there is. A day begins where the last sealed one ended, so that
 * a site that moves to another zone leaves no hour out and seals none twice.
 */
export const nextDayToSeal = (sealedUntil: EpochMs | null, since: EpochMs | null, now: EpochMs, zone: string): LocalDay | null => {
  const start = sealedUntil ?? since;
  if (start === null) return null;
  const date = Temporal.Instant.fromEpochMilliseconds(start).toZonedDateTimeISO(zone).toPlainDate();
  const midnight = (of: Temporal.PlainDate): EpochMs => of.toZonedDateTime({ timeZone: zone }).epochMilliseconds;
  const to = midnight(date.add({ days: 1 }));
  return to + graceMs > now ? null : { day: date.toString(), from: sealedUntil ?? midnight(date), to };
};
