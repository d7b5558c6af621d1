import type { Channel } from '../reading/channel.ts';
import type { Slug } from '../reading/reading.ts';

/** How the file of a logger is to be read: said by a person who has seen its first rows. */
export interface LoggerMapping {
  readonly delimiter: Delimiter;
  /** Rows before the first reading: titles, serial numbers, the names of the columns. */
  readonly skipRows: number;
  /** One column, or date and time in two; counted from 0. */
  readonly timeColumns: readonly number[];
  readonly timeFormat: TimeFormat;
  /** Where a time names no offset of its own: an IANA zone, or a fixed offset such as `+02:00`. */
  readonly zone: string;
  readonly valueColumn: number;
  readonly decimal: Decimal;
  /** As the value stands in the file. */
  readonly unit: string;
  readonly channel: Channel;
  /** The probe the readings are kept under. */
  readonly probe: Slug;
}

export const delimiters = [',', ';', '\t', '|'] as const;
export type Delimiter = (typeof delimiters)[number];

export const decimals = ['.', ','] as const;
export type Decimal = (typeof decimals)[number];

/** `iso`: year first; the others say what comes first. Epoch: seconds or milliseconds since 1970. */
export const timeFormats = ['iso', 'day-month-year', 'month-day-year', 'epoch-s', 'epoch-ms'] as const;
export type TimeFormat = (typeof timeFormats)[number];

/** Why a row gives no reading. */
export const rowRefusals = ['too-few-columns', 'no-value', 'not-a-number', 'unknown-unit', 'not-a-time', 'time-skipped', 'time-in-future', 'time-before-2020', 'row-broken', 'too-many-series'] as const;
export type RowRefusal = (typeof rowRefusals)[number];

export const rowRefusalWords: Readonly<Record<RowRefusal, string>> = {
  'too-few-columns': 'the row is too short',
  'no-value': 'there is no value',
  'not-a-number': 'the value is no number',
  'unknown-unit': 'the unit is none of this channel',
  'not-a-time': 'the time cannot be read',
  'time-skipped': 'this hour did not exist: clocks went forward. A logger that stays on winter time needs a fixed offset',
  'time-in-future': 'the time lies ahead',
  'time-before-2020': 'the time lies before 2020',
  'row-broken': 'the row is not well formed',
  'too-many-series': 'too many probes are known already',
};
