import { minuteMs, fromRfc3339, toRfc3339, type EpochMs, type Rfc3339 } from '../units/time.ts';

/** How far local clocks were ahead of UTC from a time on: a paper can be read anywhere without a table of zones. */
export interface ClockOffset {
  readonly from: Rfc3339;
  readonly minutes: number;
}

const offsetAt = (at: EpochMs, zone: string): number => Temporal.Instant.fromEpochMilliseconds(at).toZonedDateTimeISO(zone).offsetNanoseconds / 60e9;

/** The offset at the beginning of a span, and each time the clocks were changed within it. */
export const clockOffsets = (from: EpochMs, to: EpochMs, zone: string): readonly ClockOffset[] => {
  const offsets = [{ from: toRfc3339(from), minutes: offsetAt(from, zone) }];
  let here = Temporal.Instant.fromEpochMilliseconds(from).toZonedDateTimeISO(zone);
  for (;;) {
    const next = here.getTimeZoneTransition('next');
    if (next === null || next.epochMilliseconds > to) return offsets;
    offsets.push({ from: toRfc3339(next.epochMilliseconds), minutes: next.offsetNanoseconds / 60e9 });
    here = next;
  }
};

export const localTime = (at: Rfc3339, clock: readonly ClockOffset[]): { readonly date: string; readonly time: string; readonly offset: string } => {
  const ms = fromRfc3339(at);
  const minutes = (clock.findLast(({ from }) => fromRfc3339(from) <= ms) ?? clock[0])?.minutes ?? 0;
  const text = toRfc3339(ms + minutes * minuteMs);
  const [whole, rest] = [Math.floor(Math.abs(minutes) / 60), Math.abs(minutes) % 60];
  const two = (number: number): string => String(Math.floor(number)).padStart(2, '0');
  return { date: text.slice(0, 10), time: text.slice(11, 16), offset: `UTC${minutes < 0 ? '-' : '+'}${two(whole)}:${two(rest)}` };
};

/** `2026-11-24 10:02`. */
export const localMoment = (at: Rfc3339, clock: readonly ClockOffset[]): string => {
  const { date, time } = localTime(at, clock);
  return `${date} ${time}`;
};

/** The local days of a span, the first and last cut where it begins and ends: 23 or 25 hours when the clocks change. */
export const localDays = (from: EpochMs, to: EpochMs, zone: string): readonly { readonly day: string; readonly from: EpochMs; readonly to: EpochMs }[] => {
  const days: { day: string; from: EpochMs; to: EpochMs }[] = [];
  for (let start = from; start < to; ) {
    const date = Temporal.Instant.fromEpochMilliseconds(start).toZonedDateTimeISO(zone).toPlainDate();
    const end = Math.min(to, date.add({ days: 1 }).toZonedDateTime({ timeZone: zone }).epochMilliseconds);
    days.push({ day: date.toString(), from: start, to: end });
    start = end;
  }
  return days;
};
