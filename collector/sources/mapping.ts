import { doubtTime, judgeValue } from '#domain/reading/admit.ts';
import type { Channel } from '#domain/reading/channel.ts';
import { seriesId, slugPattern, type Reading } from '#domain/reading/reading.ts';
import { toStoredUnit } from '#domain/units/convert.ts';
import type { EpochMs } from '#domain/units/time.ts';
import type { Decoded } from './decoded.ts';
import { pointAt } from './json-pointer.ts';
import { matchTopic } from './topic-filter.ts';

/** Where one value of somebody else's message lies, and what it means here. */
export interface Mapping {
  /** An MQTT topic filter. */
  readonly topic: string;
  /** A JSON pointer (RFC 6901) to a number, or to a text that is one; empty: the whole payload. */
  readonly pointer: string;
  /** The probe it is a reading of; `{1}` stands for what the first wildcard of the filter matched. */
  readonly probe: string;
  readonly channel: Channel;
  /** The unit it comes in; left out: the unit of the channel. */
  readonly unit?: string | undefined;
  /** A JSON pointer to its time: Unix seconds or milliseconds, or RFC 3339; left out: the time it arrives. */
  readonly time?: string | undefined;
}

/** Reads a message by the mappings whose filter its topic fits; null where none does. */
export const decodeMapped = (mappings: readonly Mapping[], topic: string, text: string, arrivedAt: EpochMs): Decoded | null => {
  const fitting = mappings.flatMap((mapping) => {
    const stood = matchTopic(mapping.topic, topic);
    return stood === null ? [] : [{ mapping, stood }];
  });
  if (fitting.length === 0) return null;
  const readings: Reading[] = [];
  const refused: string[] = [];
  const aside: Decoded['aside'][number][] = [];
  const document = parsed(text);
  if (document === undefined) return { readings, refused: ['not-json'], aside, presence: null, quiet: [] };
  for (const { mapping, stood } of fitting) {
    const found = readingOf(mapping, stood, document, arrivedAt);
    if (typeof found === 'string') {
      refused.push(found);
      continue;
    }
    const doubt = doubtTime(found.at, arrivedAt);
    if (doubt === null) readings.push(found);
    else aside.push({ reading: found, reason: doubt });
  }
  return { readings, refused, aside, presence: null, quiet: [] };
};

/** A bare number is JSON too. */
const parsed = (text: string): unknown => {
  try {
    return JSON.parse(text) as unknown;
  } catch {
    return undefined;
  }
};

const readingOf = (mapping: Mapping, stood: readonly string[], document: unknown, arrivedAt: EpochMs): Reading | string => {
  const probe = probeName(mapping.probe, stood);
  if (probe === null) return 'topic-probe-name';
  const number = toNumber(pointAt(document, mapping.pointer));
  if (number === null) return 'not-a-number';
  const value = toStoredUnit(mapping.channel, number, mapping.unit ?? null);
  const at = mapping.time === undefined ? arrivedAt : toTime(pointAt(document, mapping.time));
  if (value === null) return 'unknown-unit';
  if (at === null) return 'not-a-time';
  return { series: seriesId(probe, mapping.channel), at, value, quality: judgeValue(mapping.channel, value) };
};

/** Names of others come in capitals and with underscores; here a name is a slug. */
const probeName = (pattern: string, stood: readonly string[]): string | null => {
  const name = pattern.replace(/\{(\d)\}/g, (_whole, place: string) => stood[Number(place) - 1] ?? '').toLowerCase().replace(/[^a-z0-9]+/g, '-').replace(/^-|-$/g, '');
  return slugPattern.test(name) ? name : null;
};

const toNumber = (value: unknown): number | null => {
  const number = typeof value === 'string' && value.trim() !== '' ? Number(value) : value;
  return typeof number === 'number' && Number.isFinite(number) ? number : null;
};

/** No reading is from before 1973, so a number this large counts milliseconds. */
const millisecondsFrom = 1e11;

const toTime = (value: unknown): EpochMs | null => {
  const at = typeof value === 'number' ? (value < millisecondsFrom ? value * 1_000 : value) : typeof value === 'string' ? Date.parse(value) : Number.NaN;
  return Number.isFinite(at) ? Math.round(at) : null;
};
