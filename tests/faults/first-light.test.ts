import { afterAll, expect, test } from 'vitest';
import { signIn } from '../helpers/caller.ts';
import { firstProbe, pack, packTopic, probeSeen, temperatureTopic } from '../helpers/first-shed.ts';
import { publish, subscribe } from '../helpers/mosquitto-clients.ts';
import { createPlace } from '../helpers/running.ts';
import { until } from '../helpers/until.ts';
import { expectFirstLight } from './first-light.ts';

const place = createPlace();
afterAll(place.clear);

test('from an empty directory to an alert that is raised, seen, kept over restarts and over again, on the embedded broker', async () => {
  await expectFirstLight({ place, portOf: ({ mqttPort }) => mqttPort });
}, 120_000);

test.concurrent('what comes twice is stored once, the first of two values stays, and what cannot be true is counted by its reason', async () => {
  const shed = await place.start();
  const owner = await signIn(shed);
  const topic = packTopic();
  const send = (payload: string, to = topic): Promise<void> => publish({ port: shed.mqttPort, topic: to, payload });
  const now = Math.floor(Date.now() / 1_000);

  const three = pack([{ t: now - 20, v: 18.25 }, { t: now - 10, v: 18.5 }, { t: now, v: 18.75 }]);
  await send(three);
  await send(three);
  await send(pack([{ t: now, v: 25 }]));
  expect((await probeSeen(owner)).channels).toMatchObject([{ count: 3, last: { value: 18.75 } }]);

  await send('x'.repeat(65_537));
  // The largest that is allowed is read, and found to be no number.
  await send('x'.repeat(65_536), temperatureTopic());
  await send('[{"n":"temperature","u":"Cel","v":18.5');
  await send('{"temperature":18.5}');
  await send('warm', temperatureTopic());
  await send('');
  await send('maybe', `${topic}/presence`);
  await send('18.5', `${topic}/humidity`);
  await send('18.5', 'brineward/home/probe/Probe_1/temperature');
  await send(JSON.stringify([{ n: 'humidity', u: '%RH', v: 60, t: now - 5 }]));
  await send(pack([{ t: now - 4, v: 18.5 }], 'furlong'));
  await send(pack([{ t: now + 3_600, v: 18.5 }, { t: 1_500_000_000, v: 18.5 }]));
  await send(Buffer.from([0x31, 0x38, 0xff]).toString('latin1'), 'brineward/elsewhere/probe/probe-1/temperature');

  const readings = await until('everything is counted', async () => {
    const { readings: found } = await owner.call('health');
    return found?.setAside === 2 ? found : null;
  });
  expect(readings).toMatchObject({ stored: 3, duplicates: 3, conflicts: 1, setAside: 2 });
  expect(readings.refused).toEqual({
    'too-large': 1, 'not-json': 1, 'senml-not-a-pack': 1, 'not-a-number': 2, empty: 1, 'presence-word': 1, 'topic-channel': 1, 'topic-probe-name': 1,
    'unknown-name': 1, 'unknown-unit': 1, 'time-in-future': 1, 'time-before-2020': 1, 'topic-foreign': 1,
  });
  expect((await owner.call('probes')).probes).toMatchObject([{ clock: { refused: 2, reason: 'time-before-2020' } }]);
  await shed.stop();
}, 120_000);

test.concurrent('a probe is online by its own word and offline by its last will', async () => {
  const shed = await place.start();
  const owner = await signIn(shed);
  const presenceTopic = `${packTopic()}/presence`;
  await publish({ port: shed.mqttPort, topic: temperatureTopic(), payload: '18.5' });
  expect((await probeSeen(owner)).presence).toBe('unknown');

  // A device that stays connected, with a last will as the notes for probe builders have it.
  const device = await subscribe(place, shed.mqttPort, presenceTopic, ['--will-topic', presenceTopic, '--will-payload', 'offline', '--will-qos', '1', '--will-retain']);
  await publish({ port: shed.mqttPort, topic: presenceTopic, payload: 'online', retain: true });
  const isSaid = (presence: string) => async (): Promise<boolean> => (await owner.call('probes')).probes.some((probe) => probe.id === firstProbe && probe.presence === presence);
  await until('the probe is online', isSaid('online'));

  // Unplugged: no goodbye, so the broker speaks for it.
  await device.end(true);
  await until('the probe is offline', isSaid('offline'));
  await shed.stop();
}, 120_000);

test.concurrent('state of the shed is said by Brineward alone', async () => {
  const shed = await place.start();
  const outside = await subscribe(place, shed.mqttPort, 'brineward/home/#');
  const forged = publish({ port: shed.mqttPort, topic: 'brineward/home/alert/forged', payload: '{"state":"normal"}' });
  // MQTT 3.1.1 knows no other "no" than closing the connection.
  await expect(forged).rejects.toThrow('mosquitto_pub ended with');
  await publish({ port: shed.mqttPort, topic: temperatureTopic(), payload: '18.5' });
  await until('the next message has come', () => outside.heard.some(({ topic }) => topic === temperatureTopic()));
  expect(outside.heard.map(({ topic }) => topic)).not.toContain('brineward/home/alert/forged');
  await shed.stop();
}, 120_000);
