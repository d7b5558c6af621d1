import { expect, test } from 'vitest';
import { hourMs, minuteMs } from '#domain/units/time.ts';
import { air, brine, evenly, reading, start } from '../helpers/readings.ts';
import type { StoreUnderTest } from '../helpers/store-harness.ts';

const span = { from: start, to: start + 6 * hourMs };

export const closeConformance = ({ store }: StoreUnderTest): void => {
  test('a closed store refuses every call and may be closed again', async () => {
    const closed = store();
    await closed.close();
    await closed.close();
    const calls = [
      () => closed.append([reading(start, 18)]),
      () => closed.latest(),
      () => closed.recent(brine, 1),
      () => closed.raw(brine, span, 1),
      () => closed.view([], span, 1),
      () => closed.summaries(),
    ];
    for (const call of calls) await expect(call()).rejects.toMatchObject({ name: 'StoreFailure', code: 'closed', canRetry: false });
  });
};

/** For a store whose harness says that it is durable. */
export const durableConformance = ({ store, reopen }: StoreUnderTest): void => {
  test('everything is there again after it is opened anew, and goes on', async () => {
    const batch = evenly(300, minuteMs);
    await store().append([...batch, reading(start, 24, air)]);
    const before = {
      latest: await store().latest(),
      summaries: await store().summaries(),
      view: await store().view([{ series: brine, ...span }], span, 7),
    };
    const again = await reopen();
    expect(await again.latest()).toEqual(before.latest);
    expect(await again.summaries()).toEqual(before.summaries);
    expect(await again.view([{ series: brine, ...span }], span, 7)).toEqual(before.view);
    expect(await again.raw(brine, span, 1_000)).toEqual(batch);
    expect(await again.append(batch)).toMatchObject({ stored: 0, duplicates: 300 });
    expect(await again.append([reading(start + 301 * minuteMs, 21)])).toMatchObject({ stored: 1 });
    expect((await again.latest()).get(brine)).toEqual(reading(start + 301 * minuteMs, 21));
  });
};

/** For a store that does not claim to be durable: that it indeed is not, so that nobody relies on it by accident. */
export const fleetingConformance = ({ store, reopen }: StoreUnderTest): void => {
  test('opened anew it is empty', async () => {
    await store().append([reading(start, 18)]);
    expect(await (await reopen()).summaries()).toEqual([]);
  });
};
