import { fail, ok, type Result } from '#domain/result.ts';
import { doubtTime, judgeValue, type TimeDoubt } from '#domain/reading/admit.ts';
import { seriesId, type Reading, type SeriesId, type Slug } from '#domain/reading/reading.ts';
import type { Channel } from '#domain/reading/channel.ts';
import { resolveSenml } from '#domain/reading/senml.ts';
import { channelOfName, parseProbeTopic } from '#domain/reading/topic.ts';
import { toStoredUnit } from '#domain/units/convert.ts';
import type { Decoded } from './decoded.ts';
import { decodeMapped, type Mapping } from './mapping.ts';
import { cborContentType, decodeCborPack, looksLikeCbor } from './cbor.ts';
import type { EpochMs } from '#domain/units/time.ts';

export type { Decoded } from './decoded.ts';

export interface DecodeOptions {
  readonly mappings?: readonly Mapping[];
  /** The broker kept the message from before, nobody knows since when: only a reading with a time of its own can be believed. */
  readonly retained?: boolean;
  readonly contentType?: string | undefined;
}

/** Larger messages are refused unread. */
export const mostPayloadBytes = 65_536;

export const nothing: Decoded = { readings: [], refused: [], aside: [], presence: null, quiet: [] };
export const refuse = (...refused: string[]): Decoded => ({ ...nothing, refused });

const utf8 = new TextDecoder('utf-8', { fatal: true });
export const decimalPattern = /^[+-]?\d{1,12}(?:\.\d{1,12})?(?:[eE][+-]?\d{1,2})?$/;

/** From one MQTT message to readings: pure, never throws. */
export const decodeMessage = (site: Slug, topic: string, payload: Uint8Array, arrivedAt: EpochMs, { mappings = [], retained = false, contentType }: DecodeOptions = {}): Decoded => {
  if (payload.length > mostPayloadBytes) return refuse('too-large');
  const meaning = parseProbeTopic(site, topic);
  if (typeof meaning === 'string') return (meaning === 'topic-foreign' && mappings.length > 0 ? foreign(topic, payload, arrivedAt, retained ? mappings.filter(({ time }) => time !== undefined) : mappings) : null) ?? refuse(meaning);
  // An empty payload only clears a retained message.
  if (payload.length === 0) return refuse('empty');
  if (meaning.kind === 'pack') return decodePackOf(meaning.probe, payload, arrivedAt, { retained, contentType });
  const text = toText(payload);
  if (!text.ok) return refuse(text.error);
  if (meaning.kind === 'presence') {
    const word = text.value.trim();
    return word === 'online' || word === 'offline' ? { ...nothing, presence: { probe: meaning.probe, online: word === 'online' } } : refuse('presence-word');
  }
  return retained ? refuse('retained-without-time') : decodePlain(meaning.probe, meaning.channel, text.value, arrivedAt);
};

const foreign = (topic: string, payload: Uint8Array, arrivedAt: EpochMs, mappings: readonly Mapping[]): Decoded | null => {
  const text = toText(payload);
  return text.ok ? decodeMapped(mappings, topic, text.value, arrivedAt) : refuse(text.error);
};

export const toText = (payload: Uint8Array): Result<string, 'not-utf8'> => {
  try {
    return ok(utf8.decode(payload));
  } catch {
    return fail('not-utf8');
  }
};

const decodePlain = (probe: Slug, channel: Channel, text: string, arrivedAt: EpochMs): Decoded => {
  const trimmed = text.trim();
  if (!decimalPattern.test(trimmed)) return refuse('not-a-number');
  const value = Number(trimmed);
  return { ...nothing, readings: [{ series: seriesId(probe, channel), at: arrivedAt, value, quality: judgeValue(channel, value) }] };
};

/** A pack of one probe, in JSON or CBOR, whichever way it came. */
export const decodePackOf = (probe: Slug, payload: Uint8Array, arrivedAt: EpochMs, { retained = false, contentType }: DecodeOptions = {}): Decoded => {
  if (contentType === cborContentType || looksLikeCbor(payload)) {
    const pack = decodeCborPack(payload);
    return pack.ok ? decodePack(probe, pack.value, arrivedAt, retained) : refuse(pack.error);
  }
  const text = toText(payload);
  return text.ok ? decodeJsonPack(probe, text.value, arrivedAt, retained) : refuse(text.error);
};

const decodeJsonPack = (probe: Slug, text: string, arrivedAt: EpochMs, retained: boolean): Decoded => {
  let pack: unknown;
  try {
    pack = JSON.parse(text);
  } catch {
    return refuse('not-json');
  }
  return decodePack(probe, pack, arrivedAt, retained);
};

const decodePack = (probe: Slug, pack: unknown, arrivedAt: EpochMs, retained: boolean): Decoded => {
  const resolved = resolveSenml(pack, arrivedAt);
  if (!resolved.ok) return refuse(resolved.error);
  // Base fields alone are allowed, and say nothing.
  if (resolved.value.length === 0) return refuse('senml-no-records');
  const readings: Reading[] = [];
  const refused: string[] = [];
  const aside: { reading: Reading; reason: TimeDoubt }[] = [];
  const quiet: { series: SeriesId; updateS: number }[] = [];
  for (const record of resolved.value) {
    const channel = channelOfName(record.name, record.unit);
    if (channel === null) {
      refused.push('unknown-name');
      continue;
    }
    if (record.value === null) {
      refused.push('not-a-number');
      continue;
    }
    if (retained && !record.hasOwnTime) {
      refused.push('retained-without-time');
      continue;
    }
    const value = toStoredUnit(channel, record.value, record.unit);
    if (value === null) {
      refused.push('unknown-unit');
      continue;
    }
    const reading: Reading = { series: seriesId(probe, channel), at: record.at, value, quality: judgeValue(channel, value) };
    const doubt = doubtTime(record.at, arrivedAt);
    if (doubt !== null) aside.push({ reading, reason: doubt });
    else readings.push(reading);
    if (record.updateS !== null && record.updateS > 0) quiet.push({ series: reading.series, updateS: record.updateS });
  }
  return { readings, refused, aside, presence: null, quiet };
};
