import type { EpochMs } from '../units/time.ts';

/** Local hours of the day, such as `{ from: '22:00', to: '06:30' }`; they may go over midnight. */
export interface QuietHours {
  readonly from: string;
  readonly to: string;
}

export const timeOfDayPattern = /^([01]\d|2[0-3]):[0-5]\d$/;

/** From `from` on, up to `to` and not with it. The same hour twice is no hour at all, so that nothing is muted for ever. */
export const isQuiet = (quiet: QuietHours | null, at: EpochMs, zone: string): boolean => {
  if (quiet === null || quiet.from === quiet.to) return false;
  const time = Temporal.Instant.fromEpochMilliseconds(at).toZonedDateTimeISO(zone).toPlainTime().toString({ smallestUnit: 'minute' });
  return quiet.from < quiet.to ? time >= quiet.from && time < quiet.to : time >= quiet.from || time < quiet.to;
};
