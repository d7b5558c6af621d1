import { writeFileSync } from 'node:fs';
import { DatabaseSync } from 'node:sqlite';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openBook, openSqliteStore } from '#collector';
import { shortCode } from '#domain/journal/short-code.ts';
import { dayMs, minuteMs } from '#domain/units/time.ts';
import { cli, expectSaid } from '../../helpers/cli.ts';
import { createPlace } from '../../helpers/running.ts';
import { valueOf } from '../../helpers/value-of.ts';

const place = createPlace();
afterAll(place.clear);

/** A directory with three days of readings, two of them over, made by the real program and sealed from the command line. */
let directory = '';
let lines: readonly string[] = [];
beforeAll(async () => {
  const running = await place.start();
  await running.stop();
  ({ directory } = running);
  const store = valueOf(openSqliteStore({ file: join(directory, 'readings.db') }));
  const midnight = Math.floor(Date.now() / dayMs) * dayMs;
  for (let day = 3; day > 0; day -= 1) {
    await store.append(Array.from({ length: 1_000 }, (_, index) => ({ series: 'probe-1/temperature' as const, at: midnight - day * dayMs + index * minuteMs, value: 18 + index / 1_000, quality: 'good' as const })));
  }
  await store.close();
  const sealed = await cli('seal', '--data', directory);
  expect(sealed.code).toBe(0);
  lines = sealed.out.trim().split('\n');
}, 120_000);

const copy = async (): Promise<string> => {
  const file = join(place.directory(), 'copy.tar.gz');
  expectSaid(await cli('backup', file, '--data', directory), 0);
  const target = join(place.directory(), 'copy');
  expectSaid(await cli('restore', file, '--data', target), 0);
  return target;
};
const change = (target: string, file: string, sql: string): void => {
  const database = new DatabaseSync(join(target, file));
  database.exec(sql);
  database.close();
};

describe('sealing from the command line', { timeout: 120_000 }, () => {
  it('prints a line a day to be kept elsewhere, and does nothing the second time', async () => {
    expect(lines.length).toBeGreaterThanOrEqual(2);
    for (const line of lines) expect(line).toMatch(/^\d{4}-\d{2}-\d{2} entry \d+ [0-9a-f]{64}$/);
    expect((await cli('seal', '--data', directory)).out.trim().split('\n')).toEqual(lines);
  });

  it('leaves everything intact, and verify says what it could not check', async () => {
    expectSaid(await cli('verify', '--data', directory), 0, `${lines.length} sealed days with ${lines.length} blocks`, 'cut off at the end cannot be told from here alone');
    writeFileSync(join(directory, '..', 'seals.txt'), `kept by the inspector\n${lines.join('\r\n')}\n`);
    expectSaid(await cli('verify', '--seals', join(directory, '..', 'seals.txt'), '--data', directory), 0, 'all stand in the journal');
  });

  it('may be compared with what stood on a paper', async () => {
    const [day, , entry, hash = ''] = (lines[0] ?? '').split(' ');
    const kept = join(place.directory(), 'paper.txt');
    writeFileSync(kept, `${day} entry ${entry} ${shortCode(hash)}\n`);
    expectSaid(await cli('verify', '--seals', kept, '--data', directory), 0, 'all stand in the journal');
    writeFileSync(kept, `${day} entry ${entry} ${shortCode('0'.repeat(64))}\n`);
    expectSaid(await cli('verify', '--seals', kept, '--data', directory), 1, 'the journal was written anew');
  });

  it('gives back every reading as before', async () => {
    const { out } = await cli('export', 'csv', '--data', directory);
    expect(out.trim().split('\n')).toHaveLength(3_001);
  });
});

describe('what was changed afterwards is found and named', { timeout: 120_000 }, () => {
  it('a reading in a sealed block', async () => {
    const target = await copy();
    const store = new DatabaseSync(join(target, 'readings.db'));
    const row = store.prepare('SELECT block, bytes FROM block_bytes LIMIT 1').get();
    const bytes = Uint8Array.from(row?.bytes as Uint8Array);
    const middle = bytes.length >> 1;
    bytes[middle] = (bytes[middle] ?? 0) ^ 1;
    store.prepare('UPDATE block_bytes SET bytes = ? WHERE block = ?').run(bytes, Number(row?.block));
    store.close();
    expectSaid(await cli('verify', '--data', target), 1, 'The readings of probe-1/temperature of the day that begins', 'not as they were sealed');
  });

  it('a seal that was forged with a chain made anew', async () => {
    const target = await copy();
    const book = valueOf(openBook(join(target, 'book.db')));
    const entries = book.read(0, 1_000);
    book.close();
    change(target, 'book.db', 'DELETE FROM entries');
    const anew = valueOf(openBook(join(target, 'book.db')));
    anew.appendTimed(entries.map(({ who, kind, body, time }) => ({
      draft: { who, kind, body: kind === 'day-sealed' ? { ...body, blocks: body.blocks.map((block) => ({ ...block, count: block.count - 1 })) } : body } as never,
      time: Date.parse(time),
    })));
    anew.close();
    expectSaid(await cli('verify', '--data', target), 1, 'does not hold: its signature does not fit');
  });

  it('a journal whose end was cut off: by the blocks nobody names, and by the seals kept elsewhere', async () => {
    const target = await copy();
    const [, , entry = ''] = (lines.at(-1) ?? '').split(' ');
    change(target, 'book.db', `DELETE FROM entries WHERE sequence >= ${Number(entry)}`);
    expectSaid(await cli('verify', '--data', target), 1, 'no entry of the journal names them', lines.at(-2) ?? '');
    const kept = join(target, '..', 'kept.txt');
    writeFileSync(kept, lines.join('\n'));
    expectSaid(await cli('verify', '--seals', kept, '--data', target), 1, 'does not stand in the journal any more');
  });

  it('a block that was taken out', async () => {
    const target = await copy();
    change(target, 'readings.db', 'DELETE FROM block WHERE id = 1; DELETE FROM block_bytes WHERE block = 1');
    expectSaid(await cli('verify', '--data', target), 1, 'The readings of probe-1/temperature');
  });
});
