import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { afterAll, expect, test } from 'vitest';
import { openBook, verifyJournal } from '#collector';
import { signIn } from '../helpers/caller.ts';
import { pack, packTopic, probeSeen, setUpDrum } from '../helpers/first-shed.ts';
import { publish } from '../helpers/mosquitto-clients.ts';
import { createPlace } from '../helpers/running.ts';
import { until } from '../helpers/until.ts';
import { valueOf } from '../helpers/value-of.ts';

const place = createPlace();
afterAll(place.clear);

const rule = 'ferment-temperature-danger';

test('an alert that the journal cannot take is written as soon as it can, and readings are kept meanwhile', async () => {
  const shed = await place.start();
  const owner = await signIn(shed);
  const now = Math.floor(Date.now() / 1_000);
  const send = (t: number, v: number): Promise<void> => publish({ port: shed.mqttPort, topic: packTopic(), payload: pack([{ t, v }]) });
  await send(now - 30, 20);
  await probeSeen(owner);
  await setUpDrum(owner);

  // Stands for a disk that takes no more: every insert fails, in whichever process, at once.
  const book = new DatabaseSync(join(shed.directory, 'book.db'), { timeout: 5_000 });
  book.exec("CREATE TRIGGER block BEFORE INSERT ON entries BEGIN SELECT RAISE(ABORT, 'blocked'); END");
  const collector = shed.childPid('collector');
  await send(now - 20, 31);
  await send(now - 10, 31.5);
  const shown = await until('health says so', async () => {
    const health = await owner.call('health');
    return health.store?.status === 'lost' ? health : null;
  });
  expect(shown).toMatchObject({ status: 'degraded', readings: { stored: 3 } });
  expect((await owner.call('alerts')).alerts.filter((alert) => alert.rule === rule)).toEqual([]);
  // A person's act is refused, not swallowed.
  await expect(owner.call('addDrum', { body: { id: 'barrel-2', name: 'Barrel 2', volumeL: 60 } })).rejects.toThrow(/addDrum answers 5\d\d/);

  book.exec('DROP TRIGGER block');
  book.close();
  const alert = await until('the alert', async () => (await owner.call('alerts')).alerts.find((candidate) => candidate.rule === rule));
  expect(alert).toMatchObject({ state: 'unacknowledged', value: 31, since: new Date((now - 20) * 1_000).toISOString() });
  await until('health is good', async () => (await owner.call('health')).status === 'ok');
  expect(shed.childPid('collector')).toBe(collector);
  await owner.call('addDrum', { body: { id: 'barrel-2', name: 'Barrel 2', volumeL: 60 } });
  await shed.stop();

  const closed = valueOf(openBook(join(shed.directory, 'book.db')));
  expect(verifyJournal(closed)).toMatchObject({ checked: closed.lastSequence(), fault: null });
  expect(closed.read(0, 1_000).filter((entry) => entry.kind === 'alert-raised' && entry.body.rule === rule)).toHaveLength(1);
  closed.close();
}, 120_000);
