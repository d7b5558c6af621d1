import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { statSync } from 'node:fs';
import { execPath } from 'node:process';
import { createInterface } from 'node:readline';
import { DatabaseSync } from 'node:sqlite';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';
import { dayMs } from '#domain/units/time.ts';
import { openSqliteStore } from '../../collector/stores/sqlite/open.ts';
import { streamBatch, streamBatchSize } from '../helpers/reading-stream.ts';
import { air, brine, start } from '../helpers/readings.ts';
import { createDataDirectory } from '../helpers/store-harness.ts';
import { valueOf } from '../helpers/value-of.ts';

const writer = fileURLToPath(new URL('append-until-killed.ts', import.meta.url));
/** After so many acknowledged batches the writer is killed; the last round is long enough for the write-ahead log to be copied back within it. */
const rounds = [1, 4, 9, 25, 60, 500];
const everything = { from: 0, to: start + 1_000 * dayMs };

/** Kills the writer once it has acknowledged a number of batches; answers the last batch it acknowledged before it died. */
const killAfter = async (file: string, first: number, batches: number): Promise<number> => {
  const child = spawn(execPath, [writer, file, String(first)], { stdio: ['ignore', 'pipe', 'inherit'] });
  const ended = once(child, 'exit');
  let last = first - 1;
  for await (const line of createInterface({ input: child.stdout })) {
    last = Number(line);
    if (last - first + 1 === batches) child.kill('SIGKILL');
  }
  expect(await ended).toEqual([null, 'SIGKILL']);
  return last;
};

const count = (file: string, sql: string): unknown => {
  const database = new DatabaseSync(file, { readOnly: true });
  const row = database.prepare(sql).get();
  database.close();
  return Object.values(row ?? {})[0];
};

// A killed process, not a cut of power: the operating system lives on and keeps what it was given. `synchronous=FULL` is what
// guards against the other, and no test without special hardware can show it.
test('a writer killed in mid-stream, again and again, loses nothing it acknowledged and leaves no half batch', async () => {
  const { file, remove } = createDataDirectory();
  let first = 0;
  let grewWhileRunning = false;
  for (const batches of rounds) {
    const bytesBefore = statSync(file, { throwIfNoEntry: false })?.size ?? 0;
    const last = await killAfter(file, first, batches);
    expect(last - first + 1).toBeGreaterThanOrEqual(batches);
    // Only copying back lets the file itself grow; a killed process does not do it on its way out.
    grewWhileRunning = bytesBefore > 0 && statSync(file).size > bytesBefore;

    // What the api sees, before any writer has put anything in order.
    const seen = valueOf(openSqliteStore({ file, readOnly: true }));
    const stored = (await seen.summaries()).reduce((sum, summary) => sum + summary.count, 0);
    const rows = [...(await seen.raw(brine, everything, Infinity)), ...(await seen.raw(air, everything, Infinity))];
    await seen.close();
    expect(stored % streamBatchSize).toBe(0);
    const whole = stored / streamBatchSize;
    // At most the one batch that was committed when the kill came, before it could be acknowledged.
    expect([last + 1, last + 2]).toContain(whole);
    const expected = Array.from({ length: whole }, (_, batch) => streamBatch(batch)).flat();
    expect(rows).toEqual([...expected.filter(({ series }) => series === brine), ...expected.filter(({ series }) => series === air)]);

    expect(count(file, 'PRAGMA integrity_check')).toBe('ok');
    const good = expected.filter(({ quality }) => quality === 'good').length;
    for (const table of ['rollup_10min', 'rollup_6h']) expect(count(file, `SELECT sum(count) FROM ${table}`)).toBe(good);
    // The sender delivers again what was not acknowledged.
    const again = valueOf(openSqliteStore({ file }));
    const delivered = await again.append(streamBatch(last + 1));
    expect(delivered.conflicts).toBe(0);
    expect(delivered.stored).toBe(whole === last + 1 ? streamBatchSize : 0);
    await again.close();
    first = last + 2;
  }
  expect(grewWhileRunning).toBe(true);
  remove();
}, 60_000);
