import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, expect, test } from 'vitest';
import { demoUser } from '../../api/access/demo-user.ts';
import { callerWith, signIn, type Caller } from '../helpers/caller.ts';
import { createPlace } from '../helpers/running.ts';
import { until } from '../helpers/until.ts';

const place = createPlace();
afterAll(place.clear);

/** What the demo must have to show: at least one active alert and one overdue task, a silent probe, a cure almost done, one in jars. */
const expectStory = async (owner: Caller): Promise<void> => {
  const { alerts } = await owner.call('alerts');
  expect(alerts.length).toBeGreaterThan(0);
  const { tasks } = await owner.call('tasks');
  expect(tasks.filter(({ overdue }) => overdue).length).toBeGreaterThan(0);
  const { probes } = await owner.call('probes');
  expect(probes.filter(({ health }) => health === 'silent')).toHaveLength(1);
  const { batches } = await owner.call('batches');
  expect(batches.filter(({ jarredAt }) => jarredAt !== null)).toHaveLength(1);
  const withinDays = (days: number) => (batch: (typeof batches)[number]): boolean => 'readyLikely' in batch.forecast && Date.parse(batch.forecast.readyLikely) - Date.now() < days * 86_400_000;
  // Of the cures that go on, one is nearly through: its likely day is near, and it has been tasted.
  expect(batches.filter((batch) => batch.jarredAt === null).filter(withinDays(7)).length).toBeGreaterThan(0);
};

test.concurrent('the demo is ready in seconds with a whole season to show, moves at once, and goes on after a restart', async () => {
  const startedAt = performance.now();
  const first = await place.start({ options: ['--demo'], environment: { BRINEWARD_OWNER_PASSWORD: '' } });
  // "A few seconds" on a grower's small computer; here with room for a machine that is busy with other tests.
  expect(performance.now() - startedAt).toBeLessThan(15_000);
  expect(await (await fetch(`${first.http}/api/session`)).json()).toEqual({ user: null, setUpNeeded: false, demo: { name: 'owner', password: 'olives' } });
  expect(first.stderr()).toContain(`open ${first.http} and sign in as owner with the password olives`);
  const owner = await signIn(first, demoUser.name, demoUser.password);
  expect(await owner.call('site')).toMatchObject({ site: 'saltbush-terrace', name: 'Saltbush Terrace', demo: true });
  await expectStory(owner);

  const before = new Map((await owner.call('drums')).drums.map(({ id, now }) => [id, 'at' in now.temperature ? now.temperature.at : '']));
  await until('live readings in every drum whose probe speaks', async () => {
    const moved = (await owner.call('drums')).drums.filter(({ id, now }) => 'at' in now.temperature && now.temperature.at > (before.get(id) ?? ''));
    return moved.length >= 4;
  });
  const { readings, status } = await until('live readings are counted', async () => {
    const health = await owner.call('health');
    return (health.readings?.stored ?? 0) > 0 ? health : null;
  });
  expect(status).toBe('ok');
  expect(readings).toMatchObject({ conflicts: 0, setAside: 0, refused: {} });
  expect((await owner.call('probes')).probes.filter(({ presence }) => presence === 'offline').map(({ health }) => health)).toEqual(['silent']);
  const { entries } = await owner.call('journal', { query: { after: '0', limit: '1' } });
  expect((await first.stop()).code).toBe(0);

  const second = await place.start({ options: ['--demo'], directory: first.directory });
  const later = callerWith(second.http, owner.cookie);
  await expectStory(later);
  // The same season, not a new one.
  expect((await later.call('journal', { query: { after: '0', limit: '1' } })).entries).toEqual(entries);
  const after = await until('it goes on', async () => {
    const health = await later.call('health');
    return (health.readings?.stored ?? 0) > 0 ? health : null;
  });
  expect(after.readings).toMatchObject({ conflicts: 0, refused: {} });
  const { stderr } = await second.stop();
  // Nothing a grower need not see: no warning, and no line of a library.
  expect(stderr.trimEnd().split('\n').filter((line) => !line.startsWith('{"level":"info"'))).toEqual([]);
}, 120_000);

test.concurrent('a demo that was stopped while its history was being written is whole after the next start', async () => {
  const data = join(place.directory(), 'data');
  const argv = ['--demo', '--data', data, '--port', '0', '--mqtt-port', '0'];
  const stopped = place.launch(argv);
  await until('half of the history is written', () => stopped.stderr().includes('"percent":50'));
  stopped.signal('SIGTERM');
  expect(await stopped.ended).toMatchObject({ code: 0, signal: null });
  expect(stopped.stdout()).toBe('');
  const origin = readFileSync(join(data, 'demo-origin.json'), 'utf8');

  const shed = await place.start({ options: ['--demo'], directory: data });
  const owner = await signIn(shed, demoUser.name, demoUser.password);
  await expectStory(owner);
  expect(readFileSync(join(data, 'demo-origin.json'), 'utf8')).toBe(origin);
  // Written twice, there once: one reading a minute.
  const [drum] = (await owner.call('drums')).drums;
  const day = await owner.call('readings', { params: { drum: drum?.id ?? '' }, query: { from: new Date(Date.now() - 40 * 86_400_000).toISOString(), to: new Date(Date.now() - 39 * 86_400_000).toISOString(), points: '20000' } });
  expect(day.points.reduce((sum, { count }) => sum + count, 0)).toBeLessThanOrEqual(1_440);
  await shed.stop();
}, 120_000);
