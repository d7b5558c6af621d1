import { copyFileSync } from 'node:fs';
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test, vi } from 'vitest';
import { appended } from '#domain/reading/store.ts';
import { dayMs, hourMs, minuteMs } from '#domain/units/time.ts';
import type { OutboxStore } from '#domain/reading/outbox.ts';
import { readInfluxAddress } from '../../../collector/stores/influx/address.ts';
import { openInfluxStore, type InfluxOptions } from '../../../collector/stores/influx/open.ts';
import { forgetPlace } from '../../../collector/stores/influx/outbox-file.ts';
import { sendPauseMs } from '../../../collector/stores/influx/sender.ts';
import { influxPlace, type InfluxPlace } from '../../helpers/influx-store.ts';
import { startInfluxd, type Influxd } from '../../helpers/influxd.ts';
import { startLossyProxy } from '../../helpers/lossy-proxy.ts';
import { expectPooled, referencePoint } from '../../helpers/reading-reference.ts';
import { air, brine, evenly, reading, start } from '../../helpers/readings.ts';
import { until } from '../../helpers/until.ts';
import { valueOf } from '../../helpers/value-of.ts';

vi.setConfig({ testTimeout: 60_000 });

let influxd: Influxd;
let place: InfluxPlace;
const opened: OutboxStore[] = [];
beforeAll(async () => {
  influxd = await startInfluxd();
}, 60_000);
afterAll(() => influxd.stop());
beforeEach(() => {
  place = influxPlace(influxd);
});
afterEach(async () => {
  for (const store of opened.splice(0)) await store.close();
  place.remove();
  await influxd.up();
});

/** Pauses last until the test says so. */
const held = () => {
  const asked: number[] = [];
  let go: () => void = () => undefined;
  const pause: InfluxOptions['pause'] = (ms, ended) =>
    new Promise((resolve) => {
      asked.push(ms);
      go = resolve;
      ended.addEventListener('abort', () => resolve());
    });
  return { asked, pause, tryAgain: () => go() };
};
const open = async (options: Partial<InfluxOptions> = {}): Promise<OutboxStore> => {
  const store = await place.open(options);
  opened.push(store);
  return store;
};
const everything = { from: start - 400 * dayMs, to: start + 400 * dayMs };
const inInflux = () => influxd.ask(place.database, 'SELECT value, quality FROM reading');

describe('while InfluxDB is away', () => {
  test('readings are taken in, told from here, and sent once it is back', async () => {
    const { asked, pause, tryAgain } = held();
    const told: (string | null)[] = [];
    const store = await open({ pause, random: () => 0, changed: (trouble) => told.push(trouble) });
    await influxd.down();
    const batch = evenly(200, minuteMs);
    expect(await store.append(batch)).toMatchObject({ stored: 200 });
    expect(await store.append(batch)).toMatchObject({ stored: 0, duplicates: 200 });
    expect(await store.append([reading(start, 99)])).toMatchObject({ conflicts: 1 });
    expect(await store.settled()).toBe(false);
    expect(store.outbox()).toMatchObject({ waiting: 200, trouble: 'ECONNREFUSED' });
    expect((await store.latest()).get(brine)).toEqual(batch.at(-1));
    expect(await store.recent(brine, 5)).toEqual(batch.slice(-5));
    expect((await store.view([{ series: brine, ...everything }], everything, 300)).points.length).toBe(200);
    await until('the sender pauses', () => asked.length > 0);
    await influxd.up();
    tryAgain();
    await until('all are sent', () => store.outbox().waiting === 0);
    expect(await inInflux()).toEqual(batch.map(({ at, value, quality }) => [at, value, quality]));
    expect(told).toEqual(['ECONNREFUSED', null]);
  });

  test('what is older than the last days cannot be asked, and is refused as something that passes', async () => {
    const store = await open({ keepMs: hourMs, pause: held().pause });
    const batch = evenly(300, minuteMs);
    await store.append(batch);
    expect(await store.settled()).toBe(true);
    await influxd.down();
    await expect(store.raw(brine, everything, 1_000)).rejects.toMatchObject({ name: 'StoreFailure', code: 'unreachable', canRetry: true });
    await expect(store.view([{ series: brine, ...everything }], everything, 10)).rejects.toMatchObject({ code: 'unreachable' });
    // The last hour is here, and what is now is told at any time.
    const lastHour = { from: start + 240 * minuteMs, to: start + 300 * minuteMs };
    expect(await store.raw(brine, lastHour, 1_000)).toEqual(batch.slice(240));
    expect(await store.recent(brine, 200)).toEqual(batch.slice(239));
  });

  test('a late reading whose time cannot be looked at is settled later: the first value stays', async () => {
    const { pause, asked, tryAgain } = held();
    const store = await open({ keepMs: 0, pause });
    const batch = evenly(100, minuteMs);
    await store.append(batch);
    await store.settled();
    await influxd.down();
    // Three times InfluxDB has (one with the same value), and one that it has not.
    const late = [reading(start + 10 * minuteMs, 99), reading(start + 20 * minuteMs, batch[20]?.value ?? 0), reading(start + 30 * minuteMs, -5), reading(start + 30 * minuteMs + 1, 77)];
    expect([...(await store.append(late)).outcomes]).toEqual([appended.stored, appended.stored, appended.stored, appended.stored]);
    await until('the sender pauses', () => asked.length > 0);
    await influxd.up();
    tryAgain();
    await until('all are sent', () => store.outbox().waiting === 0);
    expect(store.outbox().settledLate).toEqual({ duplicates: 1, conflicts: 2 });
    const kept = [...batch.slice(0, 31), reading(start + 30 * minuteMs + 1, 77), ...batch.slice(31)];
    expect(await store.raw(brine, everything, 1_000)).toEqual(kept);
    expect(await inInflux()).toEqual(kept.map(({ at, value, quality }) => [at, value, quality]));
    expect(await store.summaries()).toMatchObject([{ count: 101 }]);
  });

  test('late readings that wait count in the rows of a view, once, whether or not InfluxDB has them by now', async () => {
    // The first answer is lost: InfluxDB has the late readings, and they wait here all the same.
    const proxy = await startLossyProxy(influxd.port);
    const address = valueOf(readInfluxAddress(`influx://127.0.0.1:${proxy.port}/${place.database}`));
    const { pause, asked } = held();
    const store = valueOf(await openInfluxStore({ address, site: 'home', file: place.file, keepMs: 0, pause }));
    opened.push(store);
    const all = evenly(21 * 24 * 60, minuteMs);
    const late = all.filter((_, index) => index % 997 === 5);
    await store.append(all.filter((_, index) => index % 997 !== 5));
    await store.settled();
    proxy.lose('/write', 1);
    await store.append(late);
    await until('the sender pauses', () => asked.length > 0);
    expect(store.outbox().waiting).toBe(late.length);
    expect((await inInflux()).length).toBe(all.length);
    const span = { from: start, to: start + 21 * dayMs };
    const view = await store.view([{ series: brine, ...span }], span, 1_000);
    expect(view.level).toBe('10min');
    expectPooled(view.points, referencePoint(all, brine, span));

    // The same where it has them not: sent nowhere yet.
    await influxd.ask(place.database, `DELETE FROM reading WHERE time = ${late[3]?.at ?? 0}ms`);
    expectPooled((await store.view([{ series: brine, ...span }], span, 1_000)).points, referencePoint(all, brine, span));
    await store.close();
    await proxy.stop();
  });

  test('when as many wait as may, no more are taken, and none of a refused batch', async () => {
    const { pause, asked, tryAgain } = held();
    const store = await open({ mostWaiting: 150, pause });
    await influxd.down();
    await store.append(evenly(100, minuteMs));
    await expect(store.append(evenly(100, minuteMs, start + dayMs))).rejects.toMatchObject({ code: 'outbox-full', canRetry: true });
    expect(store.outbox()).toMatchObject({ waiting: 100, mostWaiting: 150 });
    expect(await store.append(evenly(50, minuteMs, start + dayMs))).toMatchObject({ stored: 50 });
    await until('the sender pauses', () => asked.length > 0);
    await influxd.up();
    tryAgain();
    await until('there is room', () => store.outbox().waiting === 0);
    expect(await store.append(evenly(100, minuteMs, start + dayMs))).toMatchObject({ stored: 50, duplicates: 50 });
  });

  test('one that takes calls and never answers is away too, and holds up nobody who brings readings', async () => {
    const store = await open({ keepMs: 0 });
    const batch = evenly(100, minuteMs);
    await store.append(batch.slice(0, 50));
    await store.settled();
    await store.close();
    const mute = createServer();
    await new Promise<void>((resolve) => void mute.listen(0, '127.0.0.1', resolve));
    const { port } = mute.address() as AddressInfo;
    const address = { ...valueOf(readInfluxAddress(influxd.store(place.database))), url: `http://127.0.0.1:${port}` };
    const { pause, asked } = held();
    const muted = valueOf(await openInfluxStore({ address, site: 'home', file: place.file, keepMs: 0, answerWithinMs: 50, pause }));
    opened.push(muted);
    expect(await muted.append(batch.slice(50))).toMatchObject({ stored: 50 });
    await until('the sender pauses', () => asked.length > 0);
    expect(muted.outbox().waiting).toBe(50);
    expect(muted.outbox().trouble).toContain('timeout');
    expect(await muted.append([reading(start + 1, 77)])).toMatchObject({ stored: 1 });
    await expect(muted.raw(brine, everything, 10)).rejects.toMatchObject({ code: 'unreachable' });
    await muted.close();
    mute.closeAllConnections();
    await new Promise((resolve) => void mute.close(resolve));
  });

  test('it is tried again after pauses that double, half of each by chance, a minute at most', () => {
    expect([0, 1, 2, 3].map((attempt) => sendPauseMs(attempt, () => 0))).toEqual([250, 500, 1_000, 2_000]);
    expect([0, 1, 2, 3].map((attempt) => sendPauseMs(attempt, () => 1))).toEqual([500, 1_000, 2_000, 4_000]);
    expect(sendPauseMs(40, () => 1)).toBe(60_000);
  });
});

describe('every reading is in InfluxDB once', () => {
  test('also when the answer to a batch is lost: it is sent again', async () => {
    const proxy = await startLossyProxy(influxd.port);
    const address = valueOf(readInfluxAddress(`influx://127.0.0.1:${proxy.port}/${place.database}`));
    const store = valueOf(await openInfluxStore({ address, site: 'home', file: place.file, pause: () => Promise.resolve() }));
    opened.push(store);
    proxy.lose('/write', 3);
    const batch = evenly(1_000, minuteMs);
    await store.append(batch);
    await until('all are sent', () => store.outbox().waiting === 0);
    expect(proxy.lost).toBe(3);
    expect(await inInflux()).toEqual(batch.map(({ at, value, quality }) => [at, value, quality]));
    await store.close();
    await proxy.stop();
  });

  test('one that InfluxDB will never take does not hold up the others, stays here, and is counted', async () => {
    await influxd.ask('', `CREATE DATABASE "${place.database}" WITH DURATION 7d`);
    const store = await open();
    const now = Date.now();
    const young = evenly(50, minuteMs, now - hourMs);
    const old = reading(now - 60 * dayMs, 12);
    expect(await store.append([...young.slice(0, 25), old, ...young.slice(25)])).toMatchObject({ stored: 51 });
    expect(await store.settled()).toBe(true);
    expect(store.outbox()).toMatchObject({ waiting: 0, refused: 1 });
    expect((await inInflux()).length).toBe(50);
    const span = { from: now - 70 * dayMs, to: now };
    expect(await store.raw(brine, span, 100)).toEqual([old, ...young]);
    // Offered once more at the next start, by when somebody may have mended what was wrong.
    await store.close();
    await influxd.ask('', `ALTER RETENTION POLICY autogen ON "${place.database}" DURATION INF`);
    const again = await open();
    expect(await again.settled()).toBe(true);
    expect(again.outbox()).toMatchObject({ waiting: 0, refused: 0 });
    expect((await inInflux()).length).toBe(51);
  });
});

describe('several who share', () => {
  test('two sites in one database do not see each other', async () => {
    const store = await open();
    const hill = valueOf(await openInfluxStore({ address: valueOf(readInfluxAddress(influxd.store(place.database))), site: 'hill', file: `${place.file}-hill` }));
    opened.push(hill);
    await store.append([reading(start, 18)]);
    await hill.append([reading(start, 30), reading(start, 24, air)]);
    await Promise.all([store.settled(), hill.settled()]);
    expect(await store.raw(brine, everything, 10)).toEqual([reading(start, 18)]);
    expect((await hill.summaries()).map(({ series }) => series)).toEqual([air, brine]);
    expect(await influxd.ask(place.database, 'SELECT value, site FROM reading ORDER BY time')).toEqual(expect.arrayContaining([[start, 18, 'home'], [start, 30, 'hill'], [start, 24, 'hill']]));
  });

  test('a process that only reads sees what waits and what was sent, and writes nothing', async () => {
    const { pause } = held();
    const store = await open({ keepMs: 0, pause });
    const batch = evenly(60, minuteMs);
    await store.append(batch.slice(0, 30));
    await store.settled();
    await store.append(batch.slice(30));
    const reader = await open({ readOnly: true });
    expect(await reader.raw(brine, everything, 100)).toEqual(batch);
    await expect(reader.append(batch)).rejects.toMatchObject({ code: 'read-only', canRetry: false });
  });
});

describe('the outbox is for one place', () => {
  test('begun anew before a database that has readings, it knows them: the first values stay', async () => {
    const first = await open();
    const batch = evenly(100, minuteMs);
    await first.append([...batch, reading(start + 5, 85, brine, 'power-on')]);
    await first.settled();
    const before = { summaries: await first.summaries(), latest: await first.latest() };
    await first.close();
    const anew = valueOf(await openInfluxStore({ address: valueOf(readInfluxAddress(influxd.store(place.database))), site: 'home', file: `${place.file}-anew` }));
    opened.push(anew);
    expect(await anew.summaries()).toEqual(before.summaries);
    expect(await anew.latest()).toEqual(before.latest);
    expect([...(await anew.append([reading(start, 3), batch[5] ?? reading(start, 0), reading(start + 7, 21)])).outcomes]).toEqual([appended.conflict, appended.duplicate, appended.stored]);
    expect((await anew.raw(brine, everything, 1_000)).length).toBe(102);
  });

  test.each(['an old copy of it', 'one out of a backup'])('%s knows what InfluxDB has by now, and what waits in it is looked up there first', async (kind) => {
    const { pause } = held();
    const store = await open({ pause });
    const batch = evenly(100, minuteMs);
    await store.append(batch.slice(0, 50));
    await store.settled();
    await influxd.down();
    // These wait in the copy; in the one that goes on they are sent, and one of them had come with another value there.
    await store.append([...batch.slice(50, 60), reading(start + 5, 99)]);
    await store.settled();
    await store.close();
    const copy = `${place.file}-copy`;
    copyFileSync(place.file, copy);
    await influxd.up();
    const goesOn = await open();
    await goesOn.append([...batch.slice(60), reading(start + 6, 44)]);
    await goesOn.settled();
    await goesOn.close();
    if (kind === 'one out of a backup') forgetPlace(copy);
    const anew = valueOf(await openInfluxStore({ address: valueOf(readInfluxAddress(influxd.store(place.database))), site: 'home', file: copy }));
    opened.push(anew);
    expect(await anew.settled()).toBe(true);
    const all = [...batch, reading(start + 5, 99), reading(start + 6, 44)].toSorted((one, other) => one.at - other.at);
    expect(await anew.raw(brine, everything, 1_000)).toEqual(all);
    expect((await anew.latest()).get(brine)).toEqual(batch.at(-1));
    expect(await anew.summaries()).toMatchObject([{ count: 102 }]);
    expect(await anew.append([reading(batch[80]?.at ?? 0, -40)])).toMatchObject({ conflicts: 1 });
    expect(await inInflux()).toEqual(all.map(({ at, value, quality }) => [at, value, quality]));
  });

  test('what waits for one database is not sent to another', async () => {
    const store = await open({ pause: held().pause });
    await influxd.down();
    await store.append(evenly(10, minuteMs));
    await store.close();
    await influxd.up();
    const elsewhere = await openInfluxStore({ address: valueOf(readInfluxAddress(influxd.store('another'))), site: 'home', file: place.file });
    expect(elsewhere).toMatchObject({ ok: false, error: { code: 'outbox-of-another' } });
    expect(elsewhere.ok ? '' : elsewhere.error.message).toContain(`10 readings still wait in ${place.file} for 127.0.0.1:${influxd.port}/${place.database}`);
    const again = await open();
    expect(await again.settled()).toBe(true);
    expect((await inInflux()).length).toBe(10);
  });
});
