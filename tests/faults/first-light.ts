/** The first light, told once and run on every kind of broker: from a probe's first word to an alert that somebody has dealt with. */
import { expect } from 'vitest';
import { callerWith, signIn, type LiveEvent } from '../helpers/caller.ts';
import { firstProbe, probeSeen, setUpDrum, temperatureTopic } from '../helpers/first-shed.ts';
import { publish, subscribe } from '../helpers/mosquitto-clients.ts';
import type { Place, Running } from '../helpers/running.ts';
import { until } from '../helpers/until.ts';

export interface FirstLightOptions {
  readonly place: Place;
  readonly options?: readonly string[];
  /** Where probes send to: the port of the broker, ours or an outside one. */
  readonly portOf: (running: Running) => number;
  /** For `mosquitto_pub` and `mosquitto_sub`. */
  readonly clientOptions?: readonly string[];
}

/** 31 °C against "at most 30 °C" for a ferment: the default limit `ferment-temperature-danger`, priority high. */
const warm = 31;
const rule = 'ferment-temperature-danger';
/** The bar of the project: a reading published is an alert on the screens within two seconds. */
const alertWithinMs = 2_000;

export const expectFirstLight = async ({ place, options = [], portOf, clientOptions = [] }: FirstLightOptions): Promise<void> => {
  const start = (directory?: string): Promise<Running> => place.start({ options, ...(directory === undefined ? {} : { directory }) });
  const first = await start();
  const owner = await signIn(first);
  const say = (running: Running, value: number): Promise<void> => publish({ port: portOf(running), topic: temperatureTopic(), payload: String(value), options: clientOptions });

  await say(first, 18.5);
  const probe = await probeSeen(owner);
  expect(probe.channels).toMatchObject([{ channel: 'temperature', unit: 'Cel', last: { value: 18.5, quality: 'good' }, count: 1, placement: null }]);

  const outside = await subscribe(place, portOf(first), 'brineward/home/#', clientOptions);
  const lot = await setUpDrum(owner);
  const drum = await owner.call('drum', { params: { drum: 'barrel-1' } });
  expect(drum.now.temperature).toMatchObject({ value: 18.5, unit: 'Cel', quality: 'good' });
  const said = await until('the drum is said on the bus', () => outside.heard.find(({ topic, payload }) => topic === 'brineward/home/drum/barrel-1/now' && payload.includes('18.5')));
  expect(JSON.parse(said.payload)).toMatchObject({ drum: 'barrel-1', lot, stage: 'ferment', temperature: { value: 18.5, unit: 'Cel', quality: 'good' } });
  const { tasks } = await owner.call('tasks');
  expect(tasks.length).toBeGreaterThan(0);
  for (const { id } of tasks) await until(`task ${id} is said on the bus`, () => outside.heard.some(({ topic }) => topic === `brineward/home/task/${id}`));

  const events = await owner.listen(place);
  const publishedAt = performance.now();
  await say(first, warm);
  const isRaised = (event: LiveEvent): boolean => event.name === 'alert' && event.data.rule === rule;
  const raised = await until('an alert on /api/live', () => events.find(isRaised));
  expect(performance.now() - publishedAt).toBeLessThan(alertWithinMs);
  expect(raised.data).toMatchObject({ drum: 'barrel-1', lot, quantity: 'temperature', priority: 'high', state: 'unacknowledged', value: warm, limit: { value: 30, unit: 'Cel', side: 'high' } });
  const id = 'id' in raised.data ? raised.data.id : '';
  const alertTopic = `brineward/home/alert/${id}`;
  const announced = await until('the alert is said on the bus', () => outside.heard.find(({ topic }) => topic === alertTopic));
  expect(JSON.parse(announced.payload)).toMatchObject({ id, priority: 'high', state: 'unacknowledged', value: warm });

  // A restart keeps everything, the session too.
  expect(await first.stop()).toMatchObject({ code: 0, signal: null });
  const second = await start(first.directory);
  const later = callerWith(second.http, owner.cookie);
  expect((await later.call('drum', { params: { drum: 'barrel-1' } })).batch).toMatchObject({ lot, stage: 'ferment', fruitKg: 35 });
  expect((await later.call('probes')).probes).toMatchObject([{ id: firstProbe, channels: [{ count: 2, last: { value: warm }, placement: { drum: 'barrel-1' } }] }]);
  expect((await later.call('alerts')).alerts.filter((alert) => alert.rule === rule)).toMatchObject([{ id, state: 'unacknowledged', value: warm }]);
  const retained = await subscribe(place, portOf(second), 'brineward/home/#', clientOptions);
  await until('state of the shed is kept for whoever comes later', () => [alertTopic, 'brineward/home/drum/barrel-1/now', `brineward/home/task/${tasks[0]?.id}`].every((wanted) => retained.heard.some(({ topic, retained: kept }) => kept && topic === wanted)));

  // Seen by a person, and still so after another restart.
  expect(await later.call('acknowledge', { params: { id } })).toMatchObject({ state: 'acknowledged', acknowledgedBy: 'owner' });
  await second.stop();
  const third = await start(first.directory);
  const last = callerWith(third.http, owner.cookie);
  expect((await last.call('alerts')).alerts.filter((alert) => alert.rule === rule)).toMatchObject([{ id, state: 'acknowledged', acknowledgedBy: 'owner', value: warm }]);

  // Cool again: without the wait that keeps short dips from ending an excursion, to see it in the time of a test.
  await last.call('setLimit', { params: { id: rule }, body: { offDelayS: 0 } });
  const watching = await subscribe(place, portOf(third), alertTopic, clientOptions);
  await until('the alert is still kept on the bus', () => watching.heard.length > 0);
  await say(third, 20);
  await until('the alert is emptied on the bus', () => watching.heard.at(-1)?.payload === '');
  expect((await last.call('alerts')).alerts.filter((alert) => alert.rule === rule)).toEqual([]);
  expect((await last.call('alerts', { query: { state: 'all' } })).alerts.find((alert) => alert.id === id)).toMatchObject({ state: 'normal', acknowledgedBy: 'owner', peak: warm });
  await third.stop();
};
