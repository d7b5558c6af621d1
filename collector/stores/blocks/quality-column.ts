import type { ByteReader } from './byte-reader.ts';
import type { ByteWriter } from './byte-writer.ts';
import { MalformedBlock } from './columns.ts';

/** Qualities as runs: a day of good readings is one run. Layout: number of runs, then each as quality and length. */
export const writeQualities = (writer: ByteWriter, qualities: Uint8Array): void => {
  const runs: [number, number][] = [];
  let run: [number, number] = [-1, 0];
  for (const quality of qualities) {
    if (quality !== run[0]) runs.push((run = [quality, 0]));
    run[1] += 1;
  }
  writer.whole(runs.length);
  for (const [quality, length] of runs) {
    writer.byte(quality);
    writer.whole(length);
  }
};

export const readQualities = (reader: ByteReader, count: number, known: number): Uint8Array => {
  const qualities = new Uint8Array(count);
  const runs = reader.whole();
  let at = 0;
  for (let run = 0; run < runs; run += 1) {
    const quality = reader.byte();
    const length = reader.whole();
    if (quality >= known) throw new MalformedBlock('a quality is unknown');
    if (length < 1 || length > count - at) throw new MalformedBlock('there are more qualities than readings');
    qualities.fill(quality, at, (at += length));
  }
  if (at !== count) throw new MalformedBlock('there are fewer qualities than readings');
  return qualities;
};
