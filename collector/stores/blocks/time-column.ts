import { packBits, packedBytes, unpackBits } from './bit-pack.ts';
import type { ByteReader } from './byte-reader.ts';
import type { ByteWriter } from './byte-writer.ts';
import { MalformedBlock } from './columns.ts';

/** A day and its bounds must lie this near to each other for times to be written as 32-bit distances. */
export const mostSpanMs = 2 ** 30;

/**
 * Times as what is left of them on a grid: time = first + place × interval + rest, where the place is the nearest on the grid. A probe
 * that reports every ten seconds fills every place, so that only the rest (its jitter) costs anything.
 * Worked example: 0, 10004, 19998, 40001 with interval 10000 → steps 1, 1, 2 and rests 0, 4, -2, 1.
 */
export const writeTimes = (writer: ByteWriter, times: Float64Array, from: number): void => {
  const first = times[0] ?? from;
  const offsets = new Int32Array(times.length);
  for (let index = 0; index < times.length; index += 1) offsets[index] = (times[index] ?? first) - first;
  const best = likelyIntervals(offsets)
    .map((interval) => onGrid(offsets, interval))
    .reduce((one, other) => (other.bytes < one.bytes ? other : one));
  writer.whole(first - from);
  writer.whole(best.interval);
  writer.whole(best.runs.length);
  for (const [step, length] of best.runs) {
    writer.whole(step);
    writer.whole(length);
  }
  packBits(writer, best.rests);
};

export const readTimes = (reader: ByteReader, count: number, from: number, to: number): Float64Array => {
  const first = from + reader.whole();
  const interval = reader.whole();
  const runs = reader.whole();
  const places = new Float64Array(count);
  let index = 1;
  let place = 0;
  for (let run = 0; run < runs; run += 1) {
    const step = reader.whole();
    const length = reader.whole();
    if (length > count - index) throw new MalformedBlock('there are more steps than times');
    for (const end = index + length; index < end; index += 1) {
      place += step;
      places[index] = place;
    }
  }
  if (index !== Math.max(1, count)) throw new MalformedBlock('there are fewer steps than times');
  const rests = unpackBits(reader, count);
  let before = -Infinity;
  for (let at = 0; at < count; at += 1) {
    const time = first + (places[at] ?? 0) * interval + (rests[at] ?? 0);
    if (!(time > before && time >= from && time < to)) throw new MalformedBlock('its times are not in order within the day');
    before = time;
    places[at] = time;
  }
  return places;
};

interface OnGrid {
  readonly interval: number;
  /** How far each time is from the one before, in places, as [step, how often]. */
  readonly runs: readonly (readonly [step: number, length: number])[];
  readonly rests: Int32Array;
  /** What it takes, nearly. */
  readonly bytes: number;
}

const onGrid = (offsets: Int32Array, interval: number): OnGrid => {
  const rests = new Int32Array(offsets.length);
  const runs: [number, number][] = [];
  let run: [number, number] = [-1, 0];
  let before = 0;
  for (let index = 1; index < offsets.length; index += 1) {
    const offset = offsets[index] ?? 0;
    const place = Math.round(offset / interval);
    rests[index] = offset - place * interval;
    const step = place - before;
    before = place;
    if (step !== run[0]) runs.push((run = [step, 0]));
    run[1] += 1;
  }
  return { interval, runs, rests, bytes: packedBytes(rests) + 2 * runs.length };
};

/** More distances than this need not be looked at to find the usual one. */
const mostLookedAt = 1_024;

/** The usual distance of two times, and that rounded to whole seconds and parts of them: jitter hides what a probe is set to. */
const likelyIntervals = (offsets: Int32Array): readonly number[] => {
  const stride = Math.max(1, Math.ceil((offsets.length - 1) / mostLookedAt));
  const distances: number[] = [];
  for (let index = 1; index < offsets.length; index += stride) distances.push((offsets[index] ?? 0) - (offsets[index - 1] ?? 0));
  const usual = Math.max(1, Int32Array.from(distances).sort()[distances.length >> 1] ?? 1);
  const rounded = [60_000, 1_000, 100, 10].map((step) => Math.round(usual / step) * step).filter((interval) => interval > 0);
  return [...new Set([usual, ...rounded])];
};
