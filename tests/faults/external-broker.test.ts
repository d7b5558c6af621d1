import { createServer, type AddressInfo } from 'node:net';
import { Aedes } from 'aedes';
import { afterAll, expect, test } from 'vitest';
import { signIn } from '../helpers/caller.ts';
import { pack, packTopic, probeSeen, setUpDrum, temperatureTopic } from '../helpers/first-shed.ts';
import { startMosquitto, type Mosquitto } from '../helpers/mosquitto.ts';
import { publish, subscribe } from '../helpers/mosquitto-clients.ts';
import { createPlace } from '../helpers/running.ts';
import { until } from '../helpers/until.ts';
import { expectFirstLight } from './first-light.ts';

const place = createPlace();
afterAll(place.clear);

const mosquitto = async (): Promise<Mosquitto> => {
  const broker = await startMosquitto();
  place.keep(broker.stop);
  return broker;
};

test('the first light is the same through Mosquitto, with MQTT 5', async () => {
  const broker = await mosquitto();
  await expectFirstLight({ place, options: ['--broker', broker.url], portOf: () => broker.port, clientOptions: ['-V', 'mqttv5'] });
}, 120_000);

test('the first light is the same through a broker that speaks MQTT 3.1.1 only', async () => {
  const aedes = await Aedes.createBroker();
  const server = createServer((socket) => void aedes.handle(socket));
  await new Promise<void>((resolve) => void server.listen(0, '127.0.0.1', resolve));
  place.keep(async () => {
    await new Promise<void>((resolve) => aedes.close(() => resolve()));
    server.close();
  });
  const { port } = server.address() as AddressInfo;
  // What it is here for: a client of MQTT 5 is turned away.
  await expect(publish({ port, topic: 'a', payload: 'b', options: ['-V', 'mqttv5'] })).rejects.toThrow('mosquitto_pub ended with');
  await expectFirstLight({ place, options: ['--broker', `mqtt://127.0.0.1:${port}`], portOf: () => port });
}, 120_000);

test.concurrent('a broker that goes away is shown, comes back by itself, and what it took meanwhile arrives once', async () => {
  const broker = await mosquitto();
  const shed = await place.start({ options: ['--broker', broker.url] });
  expect(shed.stdout()).toBe(`ready ${shed.http} mqtt://127.0.0.1:${broker.port}\n`);
  const owner = await signIn(shed);
  const now = Math.floor(Date.now() / 1_000);
  const send = (...records: readonly { readonly t: number; readonly v: number }[]): Promise<void> => publish({ port: broker.port, topic: packTopic(), payload: pack(records) });
  await send({ t: now - 50, v: 18 });
  await probeSeen(owner);
  await until('health is good', async () => (await owner.call('health')).status === 'ok');

  await broker.down();
  const lost = await until('health says that the broker is lost', async () => {
    const health = await owner.call('health');
    return health.broker?.status === 'lost' ? health : null;
  });
  expect(lost).toMatchObject({ status: 'degraded', broker: { kind: 'external' }, collector: { status: 'ok' }, store: { status: 'ok' } });

  // The collector is held still, so that the broker has to keep what comes: it knows the session from before it went down.
  process.kill(shed.childPid('collector'), 'SIGSTOP');
  await broker.up();
  await send({ t: now - 40, v: 18.1 }, { t: now - 30, v: 18.2 });
  await send({ t: now - 20, v: 18.3 });
  await send({ t: now - 20, v: 18.3 });
  process.kill(shed.childPid('collector'), 'SIGCONT');

  await until('everything sent meanwhile is there', async () => (await probeSeen(owner)).channels[0]?.count === 4);
  const health = await until('health is good again', async () => {
    const found = await owner.call('health');
    return found.broker?.status === 'ok' && found.readings?.duplicates === 1 ? found : null;
  });
  expect(health).toMatchObject({ status: 'ok', readings: { stored: 4, duplicates: 1, conflicts: 0, refused: {} } });
  await send({ t: now, v: 18.4 });
  const told = (level: string, text: string) => (): boolean => shed.stderr().split('\n').some((line) => line.includes(`"level":"${level}"`) && line.includes(text));
  await until('both are in the log', () => told('warn', 'the broker is lost')() && told('info', 'the broker is back')());
  await until('a reading after it all', async () => (await probeSeen(owner)).channels[0]?.last?.value === 18.4);
  expect((await shed.stop()).code).toBe(0);
}, 120_000);

test.concurrent('what a broker takes while Brineward is stopped is there after its next start', async () => {
  const broker = await mosquitto();
  const first = await place.start({ options: ['--broker', broker.url] });
  await first.stop();
  const now = Math.floor(Date.now() / 1_000);
  for (let age = 10; age > 0; age -= 1) await publish({ port: broker.port, topic: packTopic(), payload: pack([{ t: now - age, v: 18 + age / 10 }]) });
  const second = await place.start({ options: ['--broker', broker.url], directory: first.directory });
  const owner = await signIn(second);
  await until('all ten are there', async () => (await probeSeen(owner)).channels[0]?.count === 10);
  expect((await probeSeen(owner)).channels[0]?.last?.value).toBe(18.1);
  await second.stop();
}, 120_000);

test.concurrent('an alert that went back to normal while the broker was away is not kept there', async () => {
  const broker = await mosquitto();
  const shed = await place.start({ options: ['--broker', broker.url] });
  const owner = await signIn(shed);
  await publish({ port: broker.port, topic: temperatureTopic(), payload: '20' });
  await probeSeen(owner);
  await setUpDrum(owner);
  await publish({ port: broker.port, topic: temperatureTopic(), payload: '31' });
  const alert = await until('the alert', async () => (await owner.call('alerts')).alerts.find(({ rule }) => rule === 'ferment-temperature-danger'));
  const topic = `brineward/home/alert/${alert.id}`;
  const kept = await subscribe(place, broker.port, topic);
  await until('the alert is kept by the broker', () => kept.heard.some(({ payload }) => payload !== ''));

  await broker.down();
  // The limit is lifted while nobody hears: its alert has nothing left to stand on.
  await owner.call('setLimit', { params: { id: 'ferment-temperature-danger' }, body: { high: 35, offDelayS: 0 } });
  await owner.call('acknowledge', { params: { id: alert.id } });
  await until('the alert is normal', async () => (await owner.call('alerts')).alerts.every(({ id }) => id !== alert.id));
  await broker.up();
  const later = await subscribe(place, broker.port, 'brineward/home/#');
  await until('the drum is said again', () => later.heard.some(({ topic: heard }) => heard === 'brineward/home/drum/barrel-1/now'));
  const keptTopics = async (): Promise<string[]> => {
    const again = await subscribe(place, broker.port, 'brineward/home/#');
    await until('what the broker keeps', () => again.heard.some(({ retained }) => retained));
    await again.end();
    return again.heard.filter(({ retained }) => retained).map(({ topic: heard }) => heard);
  };
  await until('the broker has let go of the alert', async () => !(await keptTopics()).includes(topic));
  expect(await keptTopics()).toContain('brineward/home/drum/barrel-1/now');
  await shed.stop();
}, 120_000);
