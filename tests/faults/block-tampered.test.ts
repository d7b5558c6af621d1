import { copyFileSync, readFileSync, writeFileSync } from 'node:fs';
import { DatabaseSync } from 'node:sqlite';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { BlockDigest, SealingStore } from '#domain/reading/sealing.ts';
import { dayMs, hourMs, minuteMs } from '#domain/units/time.ts';
import { digestOf } from '../../collector/stores/blocks/block.ts';
import { openSqliteStore } from '../../collector/stores/sqlite/open.ts';
import { checksOf, faultsOf } from '../helpers/block-checks.ts';
import { air, brine, evenly, start } from '../helpers/readings.ts';
import { createDataDirectory } from '../helpers/store-harness.ts';
import { valueOf } from '../helpers/value-of.ts';

const day = { from: start, to: start + dayMs };
const nextDay = { from: start + dayMs, to: start + 2 * dayMs };

/** Two series over two days, the first day amended: six blocks. What a day seal would say of them is kept aside, as the journal does. */
describe('whatever is changed in sealed readings is found and named', () => {
  const sound = createDataDirectory();
  const altered = createDataDirectory();
  let sealed: readonly BlockDigest[] = [];
  beforeAll(async () => {
    const store = valueOf(openSqliteStore({ file: sound.file }));
    await store.append([...evenly(30, hourMs), ...evenly(30, hourMs, start, air)]);
    await store.seal(day);
    await store.append([...evenly(5, hourMs, start + 30 * minuteMs), ...evenly(5, hourMs, start + 30 * minuteMs, air)]);
    await store.seal(day);
    await store.seal(nextDay);
    sealed = [...(await store.digests(day)), ...(await store.digests(nextDay))];
    await store.close();
  });
  afterAll(() => {
    sound.remove();
    altered.remove();
  });

  const change = (work: (database: DatabaseSync) => void): void => {
    copyFileSync(sound.file, altered.file);
    const database = new DatabaseSync(altered.file);
    database.exec('PRAGMA synchronous = OFF');
    work(database);
    database.close();
  };
  const withAltered = async <Value>(work: (store: SealingStore) => Promise<Value>): Promise<Value> => {
    const store = valueOf(openSqliteStore({ file: altered.file, readOnly: true }));
    try {
      return await work(store);
    } finally {
      await store.close();
    }
  };
  const found = async (against?: readonly BlockDigest[]): Promise<readonly string[]> => await withAltered((store) => faultsOf(store, against));
  const expectFound = async (sql: string, faults: readonly string[], against: readonly BlockDigest[] | undefined = sealed): Promise<void> => {
    change((database) => database.exec(sql));
    expect(await found(against)).toEqual(faults);
  };

  test('untouched, every block is told sound and counted', async () => {
    change(() => {});
    const checks = await withAltered((store) => checksOf(store, sealed));
    expect(sealed.length).toBe(6);
    expect(checks.map(({ series, from, part, fault, checked, total }) => [series, from, part, fault, checked, total])).toEqual(
      [air, brine].flatMap((series, at) => [
        [series, day.from, 0, null, at * 3 + 1, 6],
        [series, day.from, 1, null, at * 3 + 2, 6],
        [series, nextDay.from, 0, null, at * 3 + 3, 6],
      ]),
    );
    expect(await found()).toEqual([]);
  });

  test('any byte of any block', async () => {
    for (const id of [1, 3]) {
      const database = new DatabaseSync(sound.file, { readOnly: true });
      const row = database.prepare('SELECT bytes, probe, channel, part FROM block_bytes JOIN block ON block.id = block JOIN series ON series.id = series WHERE block = ?').get(id);
      database.close();
      const original = row?.bytes as Uint8Array;
      const series = row?.channel === 'temperature' ? brine : air;
      expect(original.length).toBeGreaterThan(60);
      for (let at = 0; at < original.length; at += 1) {
        const flipped = original.slice();
        flipped[at] = (flipped[at] ?? 0) ^ (1 << (at % 8));
        change((opened) => opened.prepare('UPDATE block_bytes SET bytes = ? WHERE block = ?').run(flipped, id));
        // Without any day seal to compare with, and named by series and part.
        expect(await found()).toContain(`${series} ${String(row?.part)} digest-wrong`);
        // And nobody is shown it as a reading.
        if (at % 10 === 0) await expect(withAltered((store) => store.raw(series, { from: start, to: nextDay.to }, 1_000))).rejects.toMatchObject({ code: 'damaged' });
      }
    }
  }, 60_000);

  test('a block replaced by another with a digest that fits it: only the day seal knows', async () => {
    const other = createDataDirectory();
    const store = valueOf(openSqliteStore({ file: other.file }));
    await store.append(evenly(24, hourMs).map((each) => ({ ...each, value: each.value - 1 })));
    await store.seal(day);
    await store.close();
    const forged = new DatabaseSync(other.file, { readOnly: true });
    const bytes = forged.prepare('SELECT bytes FROM block_bytes').get()?.bytes as Uint8Array;
    forged.close();
    other.remove();
    const isFirst = "series = (SELECT id FROM series WHERE channel = 'temperature') AND part = 0 AND from_ms = ?";
    change((database) => {
      database.prepare(`UPDATE block_bytes SET bytes = ? WHERE block = (SELECT id FROM block WHERE ${isFirst})`).run(bytes, day.from);
      database.prepare(`UPDATE block SET sha256 = ? WHERE ${isFirst}`).run(digestOf(bytes), day.from);
    });
    expect(await found(sealed)).toContain(`${brine} 0 digest-not-sealed`);
    // The sums for views still tell the old values.
    expect(await found()).toEqual([`${brine} all rollup-wrong`]);
  });

  const amendment = 'part = 1 AND series = 1';
  const named = async (): Promise<string> => {
    const database = new DatabaseSync(sound.file, { readOnly: true });
    const { probe, channel } = database.prepare('SELECT probe, channel FROM series WHERE id = 1').get() ?? {};
    database.close();
    return `${String(probe)}/${String(channel)}`;
  };

  test.each([
    ['first_ms', 'first_ms - 1', ['1 misplaced']],
    ['last_ms', 'last_ms + 1', ['1 misplaced']],
    ['sha256', "'0' || substr(sha256, 2) || 'x'", ['1 digest-wrong', '1 digest-not-sealed']],
    ['count', 'count + 1', ['1 misplaced', '1 not-in-seal', 'all count-wrong', '1 missing']],
    ['to_ms', 'to_ms + 1', ['1 misplaced', '1 not-in-seal', '1 missing']],
    ['part', '2', ['2 misplaced', '2 part-missing', '2 not-in-seal', '1 missing']],
    ['settled', '0', ['all count-wrong', 'all rollup-wrong', '1 missing']],
    ['settled', '2', ['all count-wrong', 'all rollup-wrong', '1 missing']],
  ])('%s of a block set to %s', async (column, value, faults) => {
    const series = await named();
    await expectFound(`UPDATE block SET ${column} = ${value} WHERE ${amendment}`, faults.map((fault) => `${series} ${fault}`));
  });

  test.each([
    ['an amendment', `DELETE FROM block WHERE ${amendment}`, ['all count-wrong', 'all rollup-wrong', '1 missing']],
    ['the first part of a day', `DELETE FROM block WHERE part = 0 AND series = 1 AND from_ms = ${day.from}`, ['1 part-missing', 'all count-wrong', 'all rollup-wrong', 'all rollup-wrong', '0 missing']],
    ['the bytes of a block', `DELETE FROM block_bytes WHERE block = (SELECT id FROM block WHERE ${amendment})`, ['1 unreadable']],
  ])('removed: %s', async (_, sql, faults) => {
    const series = await named();
    change((database) => database.exec(sql));
    const told = await found(sealed);
    expect(new Set(told)).toEqual(new Set(faults.map((fault) => `${series} ${fault}`)));
    // Also without day seals.
    expect((await found()).length).toBeGreaterThan(0);
  });

  test('everything removed, as if nothing had ever been measured', async () => {
    change((database) => database.exec('DELETE FROM block; DELETE FROM block_bytes; DELETE FROM rollup_10min; DELETE FROM rollup_6h; DELETE FROM series'));
    expect(await found()).toEqual([]);
    expect((await found(sealed)).map((line) => line.split(' ')[2])).toEqual(Array.from({ length: 6 }, () => 'missing'));
  });

  test('two blocks exchanged', async () => {
    // Both series were given the same values, so that not even the sums differ.
    const faults = [air, brine].flatMap((series) => [`${series} 0 digest-wrong`, `${series} 0 misplaced`]);
    await expectFound('UPDATE block_bytes SET block = -1 WHERE block = 1; UPDATE block_bytes SET block = 1 WHERE block = 2; UPDATE block_bytes SET block = 2 WHERE block = -1', faults);
    // With their digests as well.
    await expectFound(
      `UPDATE block_bytes SET block = -1 WHERE block = 1; UPDATE block_bytes SET block = 1 WHERE block = 2; UPDATE block_bytes SET block = 2 WHERE block = -1;
       CREATE TEMP TABLE before AS SELECT id, sha256 FROM block; UPDATE block SET sha256 = (SELECT sha256 FROM before WHERE before.id = 3 - block.id) WHERE id IN (1, 2)`,
      [air, brine].flatMap((series) => [`${series} 0 misplaced`, `${series} 0 digest-not-sealed`]),
    );
  });

  test('a series given another name, or its number', async () => {
    change((database) => database.exec("UPDATE series SET probe = 'south-1' WHERE id = 1"));
    expect((await found()).filter((line) => line.endsWith('misplaced')).length).toBe(3);
    change((database) => database.exec('UPDATE series SET id = 9 WHERE id = 1'));
    expect((await found()).filter((line) => line.endsWith('misplaced')).length).toBe(3);
  });

  test.each([
    ['UPDATE rollup_10min SET sum = sum + 0.001 WHERE series = 1 AND from_ms = (SELECT min(from_ms) FROM rollup_10min)', 'rollup-wrong'],
    ['UPDATE rollup_6h SET max = max + 1 WHERE series = 1 AND from_ms = (SELECT max(from_ms) FROM rollup_6h)', 'rollup-wrong'],
    ['DELETE FROM rollup_10min WHERE series = 1 AND from_ms = (SELECT min(from_ms) FROM rollup_10min)', 'rollup-wrong'],
    [`INSERT INTO rollup_6h VALUES (1, ${start + 20 * dayMs}, 1, 1, 1, 1)`, 'rollup-wrong'],
    ['UPDATE series SET stored = stored + 1 WHERE id = 1', 'count-wrong'],
    [`INSERT INTO reading VALUES (1, ${start + 7}, 20, 1)`, 'count-wrong'],
  ])('what is kept beside the readings: %s', async (sql, fault) => {
    await expectFound(sql, [`${await named()} all ${fault}`]);
  });

  test('a block that no day seal names', async () => {
    change(() => {});
    expect(await found(sealed.slice(1))).toEqual([`${air} 0 not-in-seal`]);
  });

  test('a changed byte anywhere in the file is found, or changes no answer', async () => {
    const answers = async (): Promise<string> => {
      const store = valueOf(openSqliteStore({ file: altered.file, readOnly: true }));
      try {
        const span = { from: start, to: nextDay.to };
        const said: unknown[] = [await store.summaries(), [...(await store.latest())], await faultsOf(store, sealed)];
        for (const series of [brine, air]) said.push(await store.raw(series, span, 1_000), await store.view([{ series, ...span }], span, 3));
        return JSON.stringify(said);
      } finally {
        await store.close();
      }
    };
    change(() => {});
    const expected = await answers();
    const bytes = readFileSync(sound.file);
    let noticed = 0;
    for (let at = 100; at < bytes.length; at += 149) {
      const flipped = Buffer.from(bytes);
      flipped[at] = (flipped[at] ?? 0) ^ (1 << (at % 8));
      writeFileSync(altered.file, flipped);
      const said = await answers().catch((error: unknown) => `refused: ${String(error)}`);
      if (said !== expected) {
        noticed += 1;
        expect(said, `byte ${at}`).toMatch(/refused|digest-wrong|misplaced|unreadable|missing|not-in-seal|digest-not-sealed|count-wrong|rollup-wrong/);
      }
    }
    expect(noticed).toBeGreaterThan(10);
  }, 60_000);
});
