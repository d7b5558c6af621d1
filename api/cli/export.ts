import { once } from 'node:events';
import { join } from 'node:path';
import { openBook } from '#collector';
import { segmentsOf } from '#domain/journal/placement.ts';
import { projectAll } from '#domain/journal/project.ts';
import { drumChannels, channels } from '#domain/reading/channel.ts';
import { seriesParts, type Reading } from '#domain/reading/reading.ts';
import type { Segment } from '#domain/reading/store.ts';
import { toRfc3339, type EpochMs } from '#domain/units/time.ts';
import { argumentsOf, type Command, type Terminal } from './command.ts';
import { openReadingsFor } from './readings.ts';

const pageSize = 10_000;

/** Readings as they are stored: CSV with a header, or one SenML pack (RFC 8428). */
export const exportReadings: Command = {
  usage: 'export csv|senml [--from T] [--to T] [--drum ID] [--store URL]',
  summary: 'writes stored readings to the standard output',
  run: async (args, terminal) => {
    const given = argumentsOf(args, ['from', 'to', 'drum', 'store'], exportReadings.usage, terminal);
    if (given === null) return 1;
    const form = given.positionals[0];
    const from = timeOf(given.values.from, 0);
    const to = timeOf(given.values.to, Number.MAX_SAFE_INTEGER);
    if ((form !== 'csv' && form !== 'senml') || Number.isNaN(from) || Number.isNaN(to)) {
      terminal.error(`Usage: npm run cli -- ${exportReadings.usage}. T is RFC 3339, such as 2026-05-03T06:30:00Z.`);
      return 1;
    }
    const readings = await openReadingsFor(given, true, terminal);
    if (readings === null) return 1;
    const { store } = readings;
    const segments = given.values.drum === undefined ? (await store.summaries()).map(({ series }): Segment => ({ series, from, to })) : segmentsOfDrum(given.directory, given.values.drum, from, to);
    if (segments === null) {
      terminal.error(`There is no drum ${given.values.drum ?? ''}.`);
      return 1;
    }
    try {
      const count = await writeAll(segments, (segment, after) => store.raw(segment.series, { from: after, to: segment.to }, pageSize), form === 'csv' ? csv : senml, terminal);
      terminal.error(`${count} readings written.`);
      return 0;
    } catch (cause) {
      terminal.error(`The export stopped (${cause instanceof Error ? cause.message : String(cause)}). What was written is not whole: run it again when that is mended.`);
      return 1;
    } finally {
      await store.close();
    }
  },
};

const timeOf = (text: string | undefined, otherwise: EpochMs): EpochMs => (text === undefined ? otherwise : Date.parse(text));

const segmentsOfDrum = (directory: string, drum: string, from: EpochMs, to: EpochMs): readonly Segment[] | null => {
  const book = openBook(join(directory, 'book.db'));
  if (!book.ok) throw new Error(book.error.message);
  const shed = projectAll(book.value.read(0, Number.MAX_SAFE_INTEGER));
  book.value.close();
  return shed.drums.has(drum) ? drumChannels.flatMap((channel) => segmentsOf(shed, drum, channel, { from, to })) : null;
};

interface Form {
  readonly head: string;
  readonly line: (reading: Reading, isFirst: boolean) => string;
  readonly foot: string;
}

const csv: Form = {
  head: 'time,probe,channel,unit,value,quality\n',
  line: ({ series, at, value, quality }) => {
    const { probe, channel } = seriesParts(series);
    return `${toRfc3339(at)},${probe},${channel},${channels[channel].unit},${value},${quality}\n`;
  },
  foot: '',
};

const senml: Form = {
  head: '[',
  line: ({ series, at, value }, isFirst) => {
    const { probe, channel } = seriesParts(series);
    return `${isFirst ? '' : ','}\n${JSON.stringify({ n: `${probe}:${channel === 'level-ratio' ? 'level' : channel}`, t: at / 1_000, u: channels[channel].unit, v: value })}`;
  },
  foot: '\n]\n',
};

const writeAll = async (segments: readonly Segment[], page: (segment: Segment, after: EpochMs) => Promise<readonly Reading[]>, form: Form, terminal: Terminal): Promise<number> => {
  let count = 0;
  const write = async (text: string): Promise<void> => {
    if (!terminal.raw(text)) await once(process.stdout, 'drain');
  };
  await write(form.head);
  for (const [index, segment] of segments.entries()) {
    let after = segment.from;
    for (;;) {
      const readings = await page(segment, after);
      await write(readings.map((reading, place) => form.line(reading, count === 0 && place === 0)).join(''));
      count += readings.length;
      after = (readings.at(-1)?.at ?? after) + 1;
      if (readings.length < pageSize) break;
    }
    if (terminal.isTTY) terminal.progress(`${index + 1} of ${segments.length} series, ${count} readings`);
  }
  await write(form.foot);
  return count;
};
