import { createHash } from 'node:crypto';
import type { SeriesId } from '#domain/reading/reading.ts';
import { fail, ok, type Result } from '#domain/result.ts';
import { ByteReader } from './byte-reader.ts';
import { ByteWriter } from './byte-writer.ts';
import { MalformedBlock, type Columns } from './columns.ts';
import { readQualities, writeQualities } from './quality-column.ts';
import { readSection, writeSection } from './section.ts';
import { mostSpanMs, readTimes, writeTimes } from './time-column.ts';
import { readValues, valueForms } from './value-column.ts';

/**
 * The bytes of a block: "BrnB", version, series, day from and to, part, count, then times, values and qualities as sections. It states
 * itself what it is, so that its digest holds that too. Blocks outlive programs: a change of layout is a new version, read beside the old.
 */
export interface BlockHeader {
  readonly series: SeriesId;
  /** The bounds of the day, epoch ms. */
  readonly from: number;
  readonly to: number;
  readonly part: number;
}

export interface Block extends BlockHeader {
  readonly columns: Columns;
}

export type BlockFailure = { readonly code: 'malformed' | 'unknown-version'; readonly why: string };

/** More readings of a series and day go into further parts, so that no block needs much memory. */
export const mostReadings = 1_000_000;
/** Qualities a block may use; the database holds the same numbers. */
const mostQualities = 256;
const magic = new Uint8Array([0x42, 0x72, 0x6e, 0x42]);
const version = 1;

export const digestOf = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');

/** Times must be distinct, in order and within the day; values finite. */
export const encodeBlock = ({ series, from, to, part, columns }: Block): Uint8Array => {
  const count = columns.times.length;
  if (count < 1 || count > mostReadings || !(to - from > 0 && to - from <= mostSpanMs)) throw new RangeError('a block holds one to a million readings of one day');
  const writer = new ByteWriter();
  writer.bytes(magic);
  writer.byte(version);
  const name = new TextEncoder().encode(series);
  writer.whole(name.length);
  writer.bytes(name);
  writer.double(from);
  writer.double(to);
  writer.whole(part);
  writer.whole(count);
  const times = new ByteWriter();
  writeTimes(times, columns.times, from);
  writeSection(writer, [times.finish()]);
  writeSection(writer, valueForms(columns.values));
  const qualities = new ByteWriter();
  writeQualities(qualities, columns.qualities);
  writeSection(writer, [qualities.finish()]);
  return writer.finish();
};

/** Reads any bytes whatever: those of a block give its readings, all others a failure. Whether they are the right ones its digest says. */
export const decodeBlock = (bytes: Uint8Array): Result<Block, BlockFailure> => {
  try {
    const reader = new ByteReader(bytes);
    if (!reader.bytes(magic.length).every((byte, index) => byte === magic[index])) return fail({ code: 'malformed', why: 'it does not begin as a block' });
    const written = reader.byte();
    if (written !== version) return fail({ code: 'unknown-version', why: `it is of version ${written}` });
    const series = readName(reader);
    const from = reader.double();
    const to = reader.double();
    const part = reader.whole();
    const count = reader.whole();
    if (!Number.isSafeInteger(from) || !Number.isSafeInteger(to) || !(to > from) || to - from > mostSpanMs || count < 1 || count > mostReadings) {
      return fail({ code: 'malformed', why: 'its head is impossible' });
    }
    const timeReader = new ByteReader(readSection(reader, 64 + 24 * count));
    const times = readTimes(timeReader, count, from, to);
    timeReader.end();
    const values = readValues(readSection(reader, 64 + 8 * count), count);
    const qualityReader = new ByteReader(readSection(reader, 64 + 8 * count));
    const qualities = readQualities(qualityReader, count, mostQualities);
    qualityReader.end();
    reader.end();
    return ok({ series, from, to, part, columns: { times, values, qualities } });
  } catch (error) {
    if (error instanceof MalformedBlock) return fail({ code: 'malformed', why: error.message });
    throw error;
  }
};

const readName = (reader: ByteReader): SeriesId => {
  const bytes = reader.bytes(reader.whole());
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes) as SeriesId;
  } catch (cause) {
    throw new MalformedBlock('its series has no readable name', { cause });
  }
};
