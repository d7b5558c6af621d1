import { afterAll, describe, expect, test } from 'vitest';
import { callerWith, signIn } from '../helpers/caller.ts';
import { pack, packTopic, probeSeen, setUpDrum } from '../helpers/first-shed.ts';
import { publish } from '../helpers/mosquitto-clients.ts';
import { createPlace, isAlive, ownerPassword } from '../helpers/running.ts';
import { until } from '../helpers/until.ts';

const place = createPlace();
afterAll(place.clear);

const now = Math.floor(Date.now() / 1_000);

test.concurrent('says ready in one line on stdout and everything else as JSON lines on stderr', async () => {
  const shed = await place.start({ environment: { BRINEWARD_OWNER_PASSWORD: '' } });
  await signIn(shed).catch(() => undefined);
  const { code, stdout, stderr } = await shed.stop();
  expect(code).toBe(0);
  expect(stdout).toMatch(/^ready http:\/\/127\.0\.0\.1:\d+ mqtt:\/\/127\.0\.0\.1:\d+\n$/);
  const lines = stderr.trimEnd().split('\n').map((line) => JSON.parse(line) as { readonly level: string; readonly process: string; readonly msg: string });
  expect(lines.map(({ level }) => level).filter((level) => level !== 'info')).toEqual([]);
  // Nobody can sign in yet, so the one-time code is told.
  expect(lines.filter(({ process, msg }) => process === 'api' && /set-up code [\dA-Z]{4}-[\dA-Z]{4}/.test(msg))).toHaveLength(1);
}, 120_000);

test.concurrent.each([['::1', '::1', /^ready http:\/\/\[::1\]:\d+ mqtt:\/\/\[::1\]:\d+\n$/], ['0.0.0.0', '0.0.0.0', /^ready http:\/\/0\.0\.0\.0:\d+ mqtt:\/\/0\.0\.0\.0:\d+\n$/]])('listens on %s', async (host, mqttHost, line) => {
  const shed = await place.start({ options: ['--host', host, '--mqtt-host', mqttHost] });
  expect(shed.stdout()).toMatch(line);
  const owner = await signIn({ http: shed.http.replace('0.0.0.0', '127.0.0.1') });
  expect(await owner.call('site')).toMatchObject({ mqtt: { host: mqttHost, port: shed.mqttPort } });
  await until('the API hears the bus', async () => (await owner.call('health')).broker?.clients === 1);
  await shed.stop();
}, 120_000);

describe.concurrent.each(['SIGINT', 'SIGTERM'] as const)('%s', (signal) => {
  test('ends it within five seconds, with everything accepted on disk', async () => {
    const first = await place.start();
    const owner = await signIn(first);
    await publish({ port: first.mqttPort, topic: packTopic(), payload: pack([{ t: now - 1, v: 18 }]) });
    await probeSeen(owner);
    const lot = await setUpDrum(owner);
    await owner.listen(place);
    // Accepted: the broker has acknowledged, the API has answered.
    await publish({ port: first.mqttPort, topic: packTopic(), payload: pack([{ t: now, v: 18.5 }]) });
    const entry = await owner.call('addEntry', { params: { lot }, body: { kind: 'tasted', at: new Date().toISOString(), bitterness: 7 } });
    const askedAt = performance.now();
    expect(await first.stop(signal)).toMatchObject({ code: 0, signal: null });
    expect(performance.now() - askedAt).toBeLessThan(5_000);

    const second = await place.start({ directory: first.directory });
    const later = callerWith(second.http, owner.cookie);
    expect((await probeSeen(later)).channels[0]).toMatchObject({ count: 2, last: { value: 18.5 } });
    expect((await later.call('batch', { params: { lot } })).entries.at(-1)).toMatchObject({ sequence: entry.sequence, kind: 'tasted' });
    await second.stop();
  }, 120_000);

  test('ends it in good order while it is still starting', async () => {
    const started = place.launch(['--data', `${place.directory()}/data`, '--port', '0', '--mqtt-port', '0']);
    await until('the collector is there', () => started.stderr().includes('"collecting"'));
    started.signal(signal);
    // Also shows that neither child is left behind: they hold the same pipes.
    expect(await started.ended).toMatchObject({ code: 0, signal: null });
  }, 120_000);
});

test.concurrent('when the API is killed collecting goes on, and the API is back at the same address with the session still valid', async () => {
  const shed = await place.start();
  const owner = await signIn(shed);
  await publish({ port: shed.mqttPort, topic: packTopic(), payload: pack([{ t: now - 10, v: 18 }]) });
  await probeSeen(owner);
  const collector = shed.childPid('collector');
  process.kill(shed.childPid('api'), 'SIGKILL');
  await publish({ port: shed.mqttPort, topic: packTopic(), payload: pack([{ t: now, v: 18.5 }]) });
  await until('the API answers again', () => fetch(`${shed.http}/api/health`).then(({ ok }) => ok, () => false));
  expect(await owner.call('session')).toMatchObject({ user: { name: 'owner', role: 'owner' } });
  expect((await probeSeen(owner)).channels[0]).toMatchObject({ count: 2, last: { value: 18.5 } });
  expect(shed.childPid('collector')).toBe(collector);
  expect(shed.stderr()).toMatch(/"process":"supervisor".*"child":"api","code":null,"signal":"SIGKILL".*started again/);
  expect(shed.stdout().split('\n')).toHaveLength(2);
  await shed.stop();
}, 120_000);

test.concurrent('a collector that falls silent is shown and raises an alert of the API, until it speaks again', async () => {
  const shed = await place.start();
  const owner = await signIn(shed);
  // A minute by default; five seconds are more than twice the pace of its signs of life.
  await owner.call('setLimit', { params: { id: 'collector-silent' }, body: { high: 5 } });
  const events = await owner.listen(place);
  const collector = shed.childPid('collector');
  process.kill(collector, 'SIGSTOP');
  const raised = await until('an alert on /api/live', () => events.find(({ name, data }) => name === 'alert' && 'rule' in data && data.rule === 'collector-silent'));
  expect(raised.data).toMatchObject({ rule: 'collector-silent', priority: 'high', state: 'unacknowledged', drum: null, limit: { value: 5, unit: 's' } });
  await until('health says so', async () => {
    const { status, collector: shown } = await owner.call('health');
    return status === 'degraded' && shown?.status === 'silent';
  });
  // A stranger learns that something is wrong, and no more.
  expect(await (await fetch(`${shed.http}/api/health`)).json()).toEqual({ status: 'degraded', version: expect.stringMatching(/^\d+\.\d+\.\d+/) as unknown });

  process.kill(collector, 'SIGCONT');
  await until('the alert has returned', async () => (await owner.call('alerts')).alerts.find(({ rule, state }) => rule === 'collector-silent' && state === 'returned'));
  await until('health is good', async () => (await owner.call('health')).status === 'ok');
  expect((await owner.call('alerts', { query: { state: 'all' } })).alerts.filter(({ rule }) => rule === 'collector-silent')).toHaveLength(1);
  await shed.stop();
}, 120_000);

test.concurrent('when the supervisor is killed both children end by themselves, and a new instance can start', async () => {
  const first = await place.start();
  const children = [first.childPid('api'), first.childPid('collector')];
  first.signal('SIGKILL');
  expect(await first.ended).toMatchObject({ code: null, signal: 'SIGKILL' });
  await until('both are gone', () => !children.some(isAlive));
  const second = await place.start({ directory: first.directory });
  await signIn(second, 'owner', ownerPassword);
  await second.stop();
}, 120_000);

test.concurrent('a collector that cannot start again is tried again until it can', async () => {
  const shed = await place.start();
  const owner = await signIn(shed);
  // Somebody else has taken the lock of the directory while the collector was away.
  const { lockDirectory } = await import('../../collector/lock.ts');
  process.kill(shed.childPid('collector'), 'SIGKILL');
  const lock = await until('the lock of the killed collector is free', () => {
    const taken = lockDirectory(shed.directory);
    return taken.ok ? taken.value : null;
  });
  await until('the supervisor says why it waits', () => /"child":"collector","code":1.*"failure":"The data directory [^"]* is in use/.test(shed.stderr()));
  lock.release();
  await publishUntilTaken(shed.mqttPort);
  expect((await probeSeen(owner)).channels[0]?.last?.value).toBe(18.5);
  expect((await shed.stop()).code).toBe(0);
}, 120_000);

const publishUntilTaken = async (port: number): Promise<void> => {
  await until('the broker is back', () => publish({ port, topic: packTopic(), payload: pack([{ t: now, v: 18.5 }]) }).then(() => true, () => false), 30_000);
};
