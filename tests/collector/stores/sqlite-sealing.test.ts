import { DatabaseSync } from 'node:sqlite';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { appended } from '#domain/reading/store.ts';
import { dayMs, hourMs, minuteMs } from '#domain/units/time.ts';
import type { SealingStore } from '#domain/reading/sealing.ts';
import { openSqliteStore } from '../../../collector/stores/sqlite/open.ts';
import { checksOf } from '../../helpers/block-checks.ts';
import { air, brine, evenly, reading, start } from '../../helpers/readings.ts';
import { createDataDirectory } from '../../helpers/store-harness.ts';
import { valueOf } from '../../helpers/value-of.ts';

const day = { from: start, to: start + dayMs };

describe('sealing a day of readings.db', () => {
  let place = createDataDirectory();
  let store: SealingStore;
  beforeEach(() => {
    place = createDataDirectory();
    store = valueOf(openSqliteStore({ file: place.file }));
  });
  afterEach(async () => {
    await store.close();
    place.remove();
  });
  const query = (sql: string): unknown => {
    const database = new DatabaseSync(place.file, { readOnly: true });
    const found = database.prepare(sql).all().map((row) => Object.values(row));
    database.close();
    return found;
  };

  test('takes exactly the readings of the day, half-open, and no others', async () => {
    await store.append([reading(day.from - 1, 1), reading(day.from, 2), reading(day.to - 1, 3), reading(day.to, 4), reading(day.from, 5, air)]);
    const sealed = await store.seal(day);
    expect(sealed.map(({ series, part, count }) => [series, part, count])).toEqual([[air, 0, 1], [brine, 0, 2]]);
    expect(await store.digests(day)).toEqual(sealed);
    expect(query('SELECT time_ms FROM reading ORDER BY time_ms')).toEqual([[day.from - 1], [day.to]]);
    expect(await store.firstUnsealed(-Infinity)).toBe(day.from - 1);
    expect(await store.firstUnsealed(day.from)).toBe(day.to);
    expect(await store.firstUnsealed(day.to + 1)).toBe(null);
  });

  test('what comes late: equal is a duplicate, different a conflict, new goes to an amendment that leaves the first part alone', async () => {
    await store.append(evenly(24, hourMs));
    const [first] = await store.seal(day);
    const known = evenly(1, hourMs)[0]?.value ?? NaN;
    const late = await store.append([reading(start, known), reading(start, known + 1), reading(start + minuteMs, 20), reading(start + minuteMs, 20), reading(start + minuteMs, 21)]);
    expect([...late.outcomes]).toEqual([appended.duplicate, appended.conflict, appended.stored, appended.duplicate, appended.conflict]);
    expect(await store.digests(day)).toEqual([first]);
    const [amendment] = await store.seal(day);
    expect(amendment).toMatchObject({ series: brine, part: 1, count: 1 });
    expect(await store.digests(day)).toEqual([first, amendment]);
    expect(await store.seal(day)).toEqual([]);
    // The count and the sums know each reading once.
    expect(await store.summaries()).toMatchObject([{ count: 25 }]);
    expect((await store.view([{ series: brine, ...day }], day, 1)).points).toMatchObject([{ count: 25 }]);
  });

  test('the first and the last few are right where an amendment lies between the readings of the day', async () => {
    const all = evenly(48, 30 * minuteMs);
    await store.append(all.filter((_, index) => index % 5 !== 3));
    await store.seal(day);
    await store.append(all.filter((_, index) => index % 5 === 3));
    await store.seal(day);
    for (const count of [1, 3, 4, 5, 20, 48, 100]) {
      expect(await store.raw(brine, day, count)).toEqual(all.slice(0, count));
      expect(await store.recent(brine, count)).toEqual(all.slice(-count));
    }
  });

  test('a day of 25 hours is one block', async () => {
    const long = { from: start, to: start + 25 * hourMs };
    await store.append(evenly(26, hourMs));
    expect(await store.seal(long)).toMatchObject([{ ...long, count: 25 }]);
  });

  test('readings go on being taken in between the series of a day', async () => {
    const names = Array.from({ length: 12 }, (_, index) => `probe-${index}/temperature` as const);
    await store.append(names.flatMap((series) => evenly(200, minuteMs, start, series)));
    let sealedAll = false;
    let whileSealing = 0;
    const sealing = store.seal(day).then((sealed) => {
      sealedAll = true;
      return sealed;
    });
    while (!sealedAll) {
      await store.append([reading(start + 2 * dayMs + whileSealing, 20)]);
      whileSealing += 1;
      await new Promise((resolve) => setImmediate(resolve));
    }
    expect((await sealing).length).toBe(12);
    expect(whileSealing).toBeGreaterThan(5);
    expect((await store.recent(brine, 1_000)).length).toBe(whileSealing);
  });

  test('a reader that was open before sees the same after, and does not seal itself', async () => {
    const reader = valueOf(openSqliteStore({ file: place.file, readOnly: true }));
    await store.append(evenly(1_000, minuteMs));
    const before = await reader.raw(brine, day, Infinity);
    await store.seal(day);
    expect(await reader.raw(brine, day, Infinity)).toEqual(before);
    expect((await reader.latest()).get(brine)).toEqual(before.at(-1));
    await expect(reader.seal(day)).rejects.toMatchObject({ code: 'read-only' });
    await reader.close();
  });

  test('verification goes on while the store is appended to and sealed', async () => {
    await store.append([...evenly(48, hourMs), ...evenly(48, hourMs, start, air)]);
    await store.seal(day);
    const faults: unknown[] = [];
    for await (const { fault } of store.verifyBlocks()) {
      if (fault !== null) faults.push(fault);
      await store.append([reading(start + 3 * dayMs + faults.length, 20), reading(start + 90 * minuteMs, 19), reading(start + 91 * minuteMs, 19, air)]);
      await store.seal({ from: start + dayMs, to: start + 2 * dayMs });
      await store.seal(day);
    }
    expect(faults).toEqual([]);
    expect((await checksOf(store)).map(({ fault }) => fault)).toEqual(Array.from({ length: 6 }, () => null));
  });

  test('bounds that are no day are a mistake of the caller', async () => {
    for (const wrong of [{ from: 1, to: 1 }, { from: 0, to: 49 * hourMs }, { from: 0.5, to: hourMs }, { from: -Infinity, to: 0 }]) await expect(store.seal(wrong)).rejects.toThrow(RangeError);
  });

  test('closed, it says so', async () => {
    await store.close();
    await expect(store.seal(day)).rejects.toMatchObject({ code: 'closed' });
    await expect(store.digests(day)).rejects.toMatchObject({ code: 'closed' });
    await expect(store.firstUnsealed(0)).rejects.toMatchObject({ code: 'closed' });
    await expect(checksOf(store)).rejects.toMatchObject({ code: 'closed' });
  });
});
