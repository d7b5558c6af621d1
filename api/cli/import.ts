import { createReadStream, existsSync, statSync } from 'node:fs';
import { resolve } from 'node:path';
import { createInterface } from 'node:readline';
import { lockDirectory, type Readings } from '#collector';
import type { Reading, SeriesId } from '#domain/reading/reading.ts';
import { argumentsOf, type Command, type Terminal } from './command.ts';
import { openReadingsFor } from './readings.ts';
import { csvHeader, csvLine, senmlLine } from './import-lines.ts';

const batchSize = 5_000;
const progressEvery = 100_000;

/** Readings written by `export`, from here or from another directory. Running it twice changes nothing: a reading that is there already is a repetition. */
export const importReadings: Command = {
  usage: 'import FILE [--store URL]',
  summary: 'takes in readings that export has written, csv or senml',
  run: async (args, terminal) => {
    const given = argumentsOf(args, ['store'], importReadings.usage, terminal);
    if (given === null) return 1;
    const file = resolve(given.positionals[0] ?? '');
    if (given.positionals.length !== 1 || !existsSync(file) || !statSync(file).isFile()) {
      terminal.error(given.positionals.length === 1 ? `There is no file ${file}.` : `Usage: npm run cli -- ${importReadings.usage}.`);
      return 1;
    }
    // Only one program writes readings: its counts, rules and seals would miss what came in behind its back.
    const lock = lockDirectory(given.directory);
    if (!lock.ok) {
      terminal.error(lock.error.code === 'in-use' ? `A running Brineward writes the readings of ${given.directory}. Stop it, import, and start it again.` : lock.error.message);
      return 1;
    }
    const readings = await openReadingsFor(given, false, terminal);
    if (readings === null) {
      lock.value.release();
      return 1;
    }
    try {
      return await takeIn(file, readings, terminal);
    } catch (cause) {
      terminal.error(`The import stopped (${cause instanceof Error ? cause.message : String(cause)}). What was stored by then is kept; run it again when that is mended.`);
      return 1;
    } finally {
      await readings.store.close();
      lock.value.release();
    }
  },
};

const takeIn = async (file: string, { store, settled }: Readings, terminal: Terminal): Promise<number> => {
  const refused = new Map<string, number>();
  const series = new Set<SeriesId>();
  const counts = { lines: 0, stored: 0, duplicates: 0, conflicts: 0 };
  let waiting: Reading[] = [];
  const write = async (): Promise<void> => {
    const outcome = await store.append(waiting);
    counts.stored += outcome.stored;
    counts.duplicates += outcome.duplicates;
    counts.conflicts += outcome.conflicts;
    waiting = [];
    // No faster than it goes on to a store elsewhere; where that is away, what was taken in waits here.
    await settled();
  };
  let read: typeof csvLine | null = null;
  for await (const line of createInterface({ input: createReadStream(file, 'utf8'), crlfDelay: Infinity })) {
    counts.lines += 1;
    if (read === null) {
      if (line === csvHeader) read = csvLine;
      else if (line.trimStart().startsWith('[')) read = senmlLine;
      else {
        terminal.error(`${file} was not written by export: its first line is neither the CSV header nor the start of a SenML pack. Nothing was stored.`);
        return 1;
      }
    }
    const found = read(line, Date.now());
    if (found === null) continue;
    if ('refused' in found) refused.set(found.refused, (refused.get(found.refused) ?? 0) + 1);
    else {
      series.add(found.reading.series);
      waiting.push(found.reading);
    }
    if (waiting.length >= batchSize) await write();
    if (counts.lines % progressEvery === 0) terminal.progress(`${counts.lines} lines read, ${counts.stored} readings stored`);
  }
  await write();
  if (terminal.isTTY) terminal.progress('');
  terminal.out(`${counts.stored} readings stored in ${series.size} series; ${counts.duplicates} were there already; ${counts.conflicts} differ from what is stored for their time, which was kept.`);
  if (!(await settled())) terminal.error('InfluxDB did not take all of them yet: the rest waits in this directory and is sent when Brineward runs.');
  for (const [reason, count] of refused) terminal.error(`${count} refused: ${reason}.`);
  return refused.size > 0 ? 1 : 0;
};
