import { createServer, type AddressInfo, type Server } from 'node:net';
import { Aedes } from 'aedes';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { channels } from '#domain/reading/channel.ts';
import { seriesId, type SeriesId } from '#domain/reading/reading.ts';
import { resolveSenml } from '#domain/reading/senml.ts';
import { channelOfName, parseProbeTopic } from '#domain/reading/topic.ts';
import { hourMs, minuteMs, secondMs } from '#domain/units/time.ts';
import { publishIntervalMs, startDemoPublisher, type DemoPublisher } from '../../../collector/demo/demo-publisher.ts';
import { buildDemoSeason, readingsBetween } from '../../../collector/demo/demo-season.ts';
import { demoSite } from '../../../collector/demo/story.ts';
import { valueOf } from '../../helpers/value-of.ts';

const now = Date.UTC(2026, 10, 12, 12, 17, 31, 250);
const season = buildDemoSeason({ now, zone: 'Europe/Athens', lotFor: ({ number }) => `lot-${number}` });
const live = ['probe-1', 'probe-2', 'probe-3', 'probe-4', 'shed-air'];
const silent = 'probe-5';

interface Heard {
  readonly presence: string[];
  readonly readings: Map<SeriesId, { at: number | null; value: number; unit: string | null }[]>;
}

let broker: Aedes;
let server: Server;
let publisher: DemoPublisher | undefined;
let heard: Heard;
let whenHeard: (() => void) | undefined;

/** Resolves as soon as what was heard satisfies the condition; nothing is waited for by time. */
const until = (condition: (heard: Heard) => boolean): Promise<void> =>
  new Promise((resolve) => {
    whenHeard = () => {
      if (condition(heard)) resolve();
    };
    whenHeard();
  });

const take = (topic: string, payload: string): void => {
  const parsed = parseProbeTopic(demoSite.slug, topic);
  if (typeof parsed === 'string') throw new Error(`${parsed}: ${topic}`);
  if (parsed.kind === 'presence') heard.presence.push(`${parsed.probe} ${payload}`);
  const add = (id: SeriesId, reading: { at: number | null; value: number; unit: string | null }): void => void heard.readings.set(id, [...(heard.readings.get(id) ?? []), reading]);
  if (parsed.kind === 'plain') add(seriesId(parsed.probe, parsed.channel), { at: null, value: Number(payload), unit: null });
  if (parsed.kind === 'pack')
    for (const { name, unit, value, at } of valueOf(resolveSenml(JSON.parse(payload), 0))) {
      const channel = channelOfName(name, unit);
      if (channel === null || value === null) throw new Error(`not a reading: ${name}`);
      add(seriesId(parsed.probe, channel), { at, value, unit });
    }
  whenHeard?.();
};

const start = (options: { readonly intervalMs?: number; readonly clock?: { now(): number } } = {}): void => {
  const { port } = server.address() as AddressInfo;
  publisher = startDemoPublisher({ brokerUrl: `mqtt://127.0.0.1:${port}`, site: demoSite.slug, season, clock: { now: () => now }, log: { info: () => undefined, warn: () => undefined }, ...options });
};

beforeEach(async () => {
  heard = { presence: [], readings: new Map() };
  broker = await Aedes.createBroker();
  broker.on('publish', ({ topic, payload }) => {
    if (topic.startsWith('brineward/')) take(topic, payload.toString());
  });
  server = createServer((socket) => void broker.handle(socket));
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
});

afterEach(async () => {
  await publisher?.stop();
  publisher = undefined;
  await new Promise<void>((resolve) => broker.close(() => resolve()));
  await new Promise((resolve) => server.close(resolve));
});

const allSeries = season.series.map(({ id }) => id).filter((id) => !id.startsWith(silent));
const complete = ({ readings, presence }: Heard): boolean => allSeries.every((id) => readings.has(id)) && presence.length === live.length + 1;

test('every probe but the silent one speaks as soon as it is connected, in a form the collector reads', async () => {
  // An interval of an hour: what is heard was said at once.
  start({ intervalMs: hourMs });
  await until(complete);
  expect([...heard.readings.keys()].toSorted()).toEqual(allSeries.toSorted());
  for (const { id, channel, valueAt } of season.series) {
    if (id.startsWith(silent)) continue;
    const isPlain = id === 'shed-air/air-temperature';
    expect(heard.readings.get(id)).toEqual([isPlain ? { at: null, value: valueAt(now), unit: null } : { at: now, value: valueAt(now), unit: channels[channel].unit }]);
  }
});

test('presence is told: online for each, offline for the silent one', async () => {
  start({ intervalMs: hourMs });
  await until(complete);
  expect(heard.presence.toSorted()).toEqual([...live.map((probe) => `${probe} online`), `${silent} offline`].toSorted());
});

test('when the demo stops, the last will of every probe says offline', async () => {
  start({ intervalMs: hourMs });
  await until(complete);
  const before = heard.presence.length;
  await publisher?.stop();
  await until(({ presence }) => presence.length === before + live.length);
  expect(heard.presence.slice(before).toSorted()).toEqual(live.map((probe) => `${probe} offline`));
});

test('goes on speaking, with the time and the values of the clock it was given', async () => {
  let ticks = 0;
  const clock = { now: () => now + ticks++ * minuteMs };
  start({ intervalMs: 5, clock });
  const enough = ({ readings }: Heard): boolean => allSeries.every((id) => (readings.get(id)?.length ?? 0) >= 4);
  await until(enough);
  for (const { id, valueAt } of season.series) {
    const told = (heard.readings.get(id) ?? []).filter((reading): reading is typeof reading & { at: number } => reading.at !== null);
    expect(told.map(({ value }) => value)).toEqual(told.map(({ at }) => valueAt(at)));
    expect(told.filter(({ at }) => (at - now) % minuteMs !== 0)).toEqual([]);
  }
});

test('goes on where the history ends, without a jump', async () => {
  start({ intervalMs: hourMs });
  await until(complete);
  const last = new Map<SeriesId, number>();
  for (const { series, value } of readingsBetween(season, now - 2 * minuteMs, now, minuteMs)) last.set(series, value);
  for (const id of allSeries) {
    const [first] = heard.readings.get(id) ?? [];
    // Two readings of the same truth: noise and one step of the probe apart, at most.
    expect(Math.abs((first?.value ?? Number.NaN) - (last.get(id) ?? Number.NaN)), id).toBeLessThan(id.endsWith('salinity') ? 1.5 : 0.4);
  }
});

test('a faster clock is followed with more readings, so that the shed is seen about every minute of its own time', () => {
  expect([1, 12, 60, 300, 1_000].map(publishIntervalMs)).toEqual([5 * secondMs, 5 * secondMs, secondMs, 200, 200]);
});
