/**
 * Time inside Brineward is UTC epoch milliseconds; on every edge (HTTP, journal, papers) it is an RFC 3339 UTC string.
 * Local days and mornings are worked out with `Temporal` in the zone of the site, never by adding 24 hours.
 */
export type EpochMs = number;

/** RFC 3339 in UTC with milliseconds, for example `2026-05-03T06:30:00.000Z`. */
export type Rfc3339 = string;

export const secondMs = 1_000;
export const minuteMs = 60 * secondMs;
export const hourMs = 60 * minuteMs;
export const dayMs = 24 * hourMs;

export const toRfc3339 = (at: EpochMs): Rfc3339 => new Date(at).toISOString();

/** Parses a string the journal or the API has already checked; NaN when it is no time at all. */
export const fromRfc3339 = (text: Rfc3339): EpochMs => Date.parse(text);
