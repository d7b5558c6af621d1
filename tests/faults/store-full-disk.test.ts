import { statSync } from 'node:fs';
import { expect, test } from 'vitest';
import { dayMs, hourMs, minuteMs } from '#domain/units/time.ts';
import { openSqliteStore } from '../../collector/stores/sqlite/open.ts';
import { air, brine, evenly, reading, start } from '../helpers/readings.ts';
import { createDataDirectory } from '../helpers/store-harness.ts';
import { valueOf } from '../helpers/value-of.ts';

// The limit on the file raises SQLITE_FULL, the very error a full disk raises.
test('a full disk: the batch that does not fit is refused whole, and what is stored stays readable', async () => {
  const { file, remove } = createDataDirectory();
  const store = valueOf(openSqliteStore({ file, mostBytes: 200_000 }));
  await store.append(evenly(1_000, minuteMs));
  const before = { latest: await store.latest(), summaries: await store.summaries() };
  const tooMuch = [...evenly(10_000, minuteMs), ...evenly(10_000, minuteMs, start, air), reading(start, 7, 'new-9/ph')];
  await expect(store.append(tooMuch)).rejects.toMatchObject({ name: 'StoreFailure', code: 'disk-full', canRetry: true });
  // A second time, to show that the first left no transaction behind.
  await expect(store.append(tooMuch)).rejects.toMatchObject({ code: 'disk-full' });

  expect({ latest: await store.latest(), summaries: await store.summaries() }).toEqual(before);
  const span = { from: start, to: start + 6 * hourMs };
  expect((await store.view([{ series: brine, ...span }], span, 1)).points).toMatchObject([{ count: 360 }]);
  expect(await store.append([reading(start + 20 * dayMs, 19)])).toMatchObject({ stored: 1 });
  await store.close();

  // With room again the same batch goes in.
  const roomier = valueOf(openSqliteStore({ file }));
  expect(await roomier.append(tooMuch)).toMatchObject({ stored: 19_001, duplicates: 1_000, conflicts: 0 });
  await roomier.close();
  remove();
});

test('a disk too full to seal a day: the day stays in rows, whole, and is sealed once there is room', async () => {
  const { file, remove } = createDataDirectory();
  const filled = valueOf(openSqliteStore({ file }));
  const readings = evenly(1_440, minuteMs).map((each, index) => ({ ...each, value: Math.sqrt(index) }));
  await filled.append(readings);
  await filled.close();
  const day = { from: start, to: start + dayMs };
  const store = valueOf(openSqliteStore({ file, mostBytes: statSync(file).size }));
  for (const _ of [1, 2]) await expect(store.seal(day)).rejects.toMatchObject({ name: 'StoreFailure', code: 'disk-full', canRetry: true });
  expect(await store.raw(brine, day, Infinity)).toEqual(readings);
  expect(await store.digests(day)).toEqual([]);
  await store.close();

  const roomier = valueOf(openSqliteStore({ file }));
  expect(await roomier.seal(day)).toMatchObject([{ count: 1_440 }]);
  expect(await roomier.raw(brine, day, Infinity)).toEqual(readings);
  await roomier.close();
  remove();
});
