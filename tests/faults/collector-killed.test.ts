import { DatabaseSync } from 'node:sqlite';
import { join } from 'node:path';
import { connect } from 'mqtt';
import { afterAll, expect, test } from 'vitest';
import { openBook, openSqliteStore, verifyJournal } from '#collector';
import { signIn } from '../helpers/caller.ts';
import { firstProbe, packTopic, probeSeen, setUpDrum } from '../helpers/first-shed.ts';
import { createPlace } from '../helpers/running.ts';
import { until } from '../helpers/until.ts';
import { valueOf } from '../helpers/value-of.ts';

const place = createPlace();
afterAll(place.clear);

const kills = 8;
/** So many messages after each start of the collector before it is killed; at this pace more than half a second of work. */
const freshBetweenKills = 130;
const everyMs = 5;
/** Two records a message, one millisecond apart; a block of cool messages, a block of warm ones, so that alerts come and go. */
const block = 60;

interface Stream {
  readonly acknowledged: ReadonlySet<number>;
  timesOf(message: number): number[];
  sent(): number;
  /** Begins no more, and waits until all is acknowledged. */
  finish(): Promise<void>;
}

/** A probe with a memory: QoS 1, and what was not acknowledged is sent again, by its library or by itself. */
const startStream = (port: number): Stream => {
  const client = connect(`mqtt://127.0.0.1:${port}`, { clientId: 'stream', clean: false, reconnectPeriod: 100 });
  client.on('error', () => undefined);
  const base = Date.now() - 3_600_000;
  const acknowledged = new Set<number>();
  const failed: number[] = [];
  let sent = 0;
  let isFinishing = false;
  const timesOf = (message: number): number[] => [base + 2 * message, base + 2 * message + 1];
  const send = (message: number): void => {
    const v = Math.floor(message / block) % 2 === 0 ? 20 : 31;
    const payload = JSON.stringify(timesOf(message).map((at) => ({ n: 'temperature', u: 'Cel', t: at / 1_000, v })));
    client.publish(packTopic(), payload, { qos: 1 }, (error) => {
      if (error === undefined || error === null) acknowledged.add(message);
      else failed.push(message);
    });
  };
  const timer = setInterval(() => {
    for (const message of failed.splice(0)) send(message);
    if (isFinishing) return;
    send(sent);
    sent += 1;
  }, everyMs);
  const stop = async (): Promise<void> => {
    clearInterval(timer);
    await client.endAsync(true);
  };
  place.keep(stop);
  return {
    acknowledged,
    timesOf,
    sent: () => sent,
    finish: async () => {
      isFinishing = true;
      await until('every message is acknowledged', () => acknowledged.size === sent, 30_000);
      await stop();
    },
  };
};

test(`killed ${kills} times during a stream at QoS 1 the collector loses no acknowledged reading, stores none twice, and its journal holds`, async () => {
  const shed = await place.start();
  const owner = await signIn(shed);
  const stream = startStream(shed.mqttPort);
  await probeSeen(owner);
  await setUpDrum(owner);
  await owner.call('setLimit', { params: { id: 'ferment-temperature-danger' }, body: { offDelayS: 0 } });

  for (let kill = 0; kill < kills; kill += 1) {
    const before = stream.acknowledged.size;
    await until('the stream flows again', () => stream.acknowledged.size > before, 30_000);
    // What had piled up goes through at once; a message begun from here on shows that time has passed.
    const fresh = stream.sent() + freshBetweenKills;
    await until('fresh messages are acknowledged', () => stream.acknowledged.has(fresh), 30_000);
    process.kill(shed.childPid('collector'), 'SIGKILL');
  }
  await stream.finish();
  // It was a stream that was cut: messages were under way at the kills.
  expect(stream.sent()).toBeGreaterThan(kills * freshBetweenKills);
  expect(shed.stderr().match(/"child":"collector","code":null,"signal":"SIGKILL"/g)).toHaveLength(kills);
  const { alerts } = await owner.call('alerts', { query: { state: 'all', limit: '1000' } });
  expect((await shed.stop()).code).toBe(0);

  const store = valueOf(openSqliteStore({ file: join(shed.directory, 'readings.db'), readOnly: true }));
  const stored = await store.raw(`${firstProbe}/temperature`, { from: 0, to: Date.now() }, Number.POSITIVE_INFINITY);
  await store.close();
  // Every message was acknowledged in the end, so what is stored is exactly what was sent: none lost, none twice, none made up.
  expect(stored.map(({ at }) => at)).toEqual(Array.from({ length: stream.sent() }, (_, message) => stream.timesOf(message)).flat());
  const database = new DatabaseSync(join(shed.directory, 'readings.db'), { readOnly: true });
  for (const table of ['rollup_10min', 'rollup_6h']) expect(database.prepare(`SELECT sum(count) AS readings FROM ${table}`).get()?.readings).toBe(stored.length);
  database.close();

  const book = valueOf(openBook(join(shed.directory, 'book.db')));
  expect(verifyJournal(book)).toMatchObject({ checked: book.lastSequence(), fault: null });
  const raised = book.read(0, 100_000).filter((entry) => entry.kind === 'alert-raised' && entry.body.rule === 'ferment-temperature-danger');
  book.close();
  // One excursion is one alert: a killed collector takes up the alert that stands, and does not raise it again.
  expect(raised.length).toBeGreaterThan(0);
  expect(alerts.filter(({ rule }) => rule === 'ferment-temperature-danger')).toHaveLength(new Set(raised.map((entry) => entry.kind === 'alert-raised' && entry.body.id)).size);
}, 120_000);
