import { writeFileSync } from 'node:fs';
import { connect, type Socket } from 'node:net';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { dayMs, liveEvents, type Drum, type LiveEventName } from '#contract';
import { toRfc3339 } from '#domain/units/time.ts';
import { collectorStatus } from '../helpers/collector-status.ts';
import type { EventStream, StreamEvent } from '../helpers/event-stream.ts';
import { expectProblem, harnessStart, openApiHarness, openShed, warmAlert, type ApiClient, type ApiHarness } from '../helpers/api-harness.ts';

let harness: ApiHarness;
let owner: ApiClient;
let lot: string;
beforeEach(async () => {
  harness = await openApiHarness();
  owner = await harness.as('owner');
  lot = await openShed(harness);
});
afterEach(() => harness.close());

/** An event parsed by the contract, which must tell everything that is in it. */
const parsed = ({ name, data }: StreamEvent): unknown => {
  const content = liveEvents[name as LiveEventName].parse(data);
  expect(data).toEqual(content);
  return content;
};
const listen = async (client = owner, lastEventId?: string): Promise<EventStream> => {
  const stream = await client.listen(lastEventId);
  // The last event of a snapshot.
  await stream.find(({ name }) => name === 'health');
  return stream;
};
const drumEvent = (stream: EventStream, fits: (drum: Drum) => boolean) => stream.find(({ name, data }) => name === 'drum' && fits(data as Drum));

describe('the event stream', () => {
  it('begins with everything: drums, open alerts, tasks, health', async () => {
    // Forecasts are worked out once, and then a snapshot is told faster than news is gathered.
    await owner.call('tasks');
    harness.collectorWrites({ kind: 'alert-raised', body: warmAlert(harness, lot) });
    const { events } = await listen();
    const [drums, alerts, tasks] = [await owner.call('drums'), await owner.call('alerts'), await owner.call('tasks')];
    expect(events.map(parsed)).toEqual([...drums.drums, ...alerts.alerts, ...tasks.tasks, { ...(await owner.call('health')), now: toRfc3339(harnessStart) }]);
  });

  it('tells an alert of the collector at once, as the alerts call tells it', async () => {
    const stream = await listen();
    const body = warmAlert(harness, lot);
    harness.collectorWrites({ kind: 'alert-raised', body });
    expect(parsed(await stream.find(({ name }) => name === 'alert'))).toEqual((await owner.call('alerts')).alerts[0]);
    harness.collectorWrites({ kind: 'alert-returned', body: { id: body.id, until: body.at, at: body.at, peak: 31 } });
    await stream.find(({ name, data }) => name === 'alert' && (data as { state: string }).state === 'returned');
    await owner.call('acknowledge', { params: { id: body.id } });
    // Also that it is over: a screen that shows it must take it away.
    await stream.find(({ name, data }) => name === 'alert' && (data as { state: string }).state === 'normal');
  });

  it('tells that a drum has news, and waits for more of it for less than a second', async () => {
    const stream = await listen();
    // What the making of the shed has still to say comes first.
    harness.service.drum('barrel-1');
    await stream.find(({ name, lastEventId }) => name === 'drum' && lastEventId !== '');
    harness.clock.advance(60_000);
    await harness.read('p1', [24.5]);
    const timers = vi.spyOn(globalThis, 'setTimeout');
    harness.service.drum('barrel-1');
    expect(timers.mock.calls.map(([, ms]) => ms)).toEqual([200]);
    timers.mockRestore();
    const event = await drumEvent(stream, ({ now }) => 'value' in now.temperature && now.temperature.value === 24.5);
    expect(parsed(event)).toEqual(await owner.call('drum', { params: { drum: 'barrel-1' } }));
  });

  it('puts many readings of a drum into one event', async () => {
    const stream = await listen();
    const length = stream.events.length;
    for (let hint = 0; hint < 50; hint += 1) harness.service.drum('barrel-1');
    await drumEvent(stream, ({ id }) => id === 'barrel-1' && stream.events.length > length);
    expect(stream.events.slice(length).filter(({ name }) => name === 'drum')).toHaveLength(1);
  });

  it('says nothing about a drum that is not there, whatever the bus says', async () => {
    const stream = await listen();
    const length = stream.events.length;
    for (const id of ['nothing', '__proto__', 'constructor', '', 'barrel-1']) harness.service.drum(id);
    await drumEvent(stream, () => stream.events.length > length);
    expect(stream.events.slice(length).map(({ name, data }) => [name, (data as Drum).id])).toEqual([['drum', 'barrel-1']]);
  });

  it('tells an act of one screen to the others: the drum, its task that is done and the next one', async () => {
    const stream = await listen(await harness.as('wall'));
    const task = (await owner.call('tasks')).tasks.find(({ kind }) => kind === 'change-brine');
    await owner.call('finishTask', { params: { id: task?.id ?? '' }, body: { brineL: 27, saltGPerL: 100 } });
    expect(parsed(await stream.find(({ name, data }) => name === 'task' && (data as { gone?: boolean }).gone === true))).toEqual({ id: task?.id, gone: true });
    const next = (await owner.call('tasks')).tasks.find(({ kind }) => kind === 'change-brine');
    expect(parsed(await stream.find(({ name, data }) => name === 'task' && (data as { id: string }).id === next?.id))).toEqual(next);
    const { revision } = await owner.call('drum', { params: { drum: 'barrel-1' } });
    await drumEvent(stream, (drum) => drum.revision === revision);
  });

  it('tells what time alone has changed: a task that falls due', async () => {
    const stream = await listen();
    const task = (await owner.call('tasks')).tasks.find(({ kind, overdue }) => kind === 'taste' && !overdue);
    harness.clock.set(Date.parse(task?.dueAt ?? '') + 10 * dayMs);
    harness.service.tick();
    expect(parsed(await stream.find(({ name, data }) => name === 'task' && (data as { id: string; overdue?: boolean }).id === task?.id && (data as { overdue?: boolean }).overdue === true))).toMatchObject({ id: task?.id });
  });

  it('tells how the shed is doing, with the time of the shed', async () => {
    const stream = await listen();
    const length = stream.events.length;
    harness.clock.advance(5_000);
    harness.service.look();
    const event = await stream.find((candidate) => stream.events.indexOf(candidate) >= length && candidate.name === 'health');
    expect(parsed(event)).toMatchObject({ status: 'degraded', now: toRfc3339(harnessStart + 5_000) });
  });
});

describe('after a break', () => {
  it('a client that names its last event is sent what it missed, nothing twice, nothing lost', async () => {
    const first = await listen();
    const other = await listen(await harness.as('helper'));
    harness.collectorWrites({ kind: 'alert-raised', body: warmAlert(harness, lot, 'a1') });
    await first.find(({ data }) => (data as { id?: string }).id === 'a1');
    first.close();
    await first.ended;
    for (const id of ['a2', 'a3', 'a4']) harness.collectorWrites({ kind: 'alert-raised', body: warmAlert(harness, lot, id) });
    await other.find(({ data }) => (data as { id?: string }).id === 'a4');

    const second = await owner.listen(first.lastEventId);
    await second.find(({ data }) => (data as { id?: string }).id === 'a4');
    const alertsOf = ({ events }: EventStream) => events.filter(({ name }) => name === 'alert').map(({ data }) => (data as { id: string }).id);
    expect([...alertsOf(first), ...alertsOf(second)]).toEqual(['a1', 'a2', 'a3', 'a4']);
    // The two halves together are what one heard who was never away.
    const idsFrom = (events: readonly StreamEvent[]): string[] => {
      const ids = events.map(({ lastEventId }) => lastEventId);
      return ids.slice(ids.indexOf(other.events.find(({ data }) => (data as { id?: string }).id === 'a1')?.lastEventId ?? ''));
    };
    expect(idsFrom([...first.events, ...second.events])).toEqual(idsFrom(other.events));
  });

  it('of the server, or with an id nobody knows, a client is sent everything once more', async () => {
    const first = await listen();
    await harness.restart();
    const second = await listen(owner, first.lastEventId);
    expect(second.events.map(parsed)).toEqual(first.events.map(parsed));
    expect((await listen(owner, 'garbage')).events.length).toBe(first.events.length);
  });
});

describe('who may listen', () => {
  it('not a stranger: the answer is a problem, and no stream is opened', async () => {
    for (let count = 0; count < 3; count += 1) expectProblem(await harness.stranger().fetch('/api/live'), 'not-signed-in');
    expect(harness.service.listeners).toBe(0);
  });

  it('not somebody who has signed out meanwhile, or was removed', async () => {
    const [helper, wall] = [await harness.as('helper'), await harness.as('wall')];
    const streams = [await listen(helper), await listen(wall), await listen()];
    await helper.call('signOut');
    harness.service.access.removeUser('wall');
    harness.service.beat();
    await Promise.all(streams.slice(0, 2).map(({ ended }) => ended));
    expect(harness.service.listeners).toBe(1);
  });

  it('no more than a hundred at once: one more is told to come later, and gets in when somebody leaves', async () => {
    const streams = await Promise.all(Array.from({ length: 100 }, () => owner.listen()));
    expectProblem(await owner.fetch('/api/live'), 'too-many-listeners');
    streams[0]?.close();
    await left(99);
    await listen();
  });

  it('a question about the stream (HEAD) is answered and holds no place', async () => {
    expect(await owner.fetch('/api/live', { method: 'HEAD' })).toMatchObject({ status: 200, body: '' });
    expect(harness.service.listeners).toBe(0);
  });
});

/** Waits, turn by turn of the event loop, until so many listeners are left; the limit of the test ends it otherwise. */
const left = async (count: number): Promise<void> => {
  while (harness.service.listeners !== count) await new Promise((resolve) => setImmediate(resolve));
};

describe('a client of bad manners', () => {
  const openSocket = (request: string): Promise<Socket> =>
    new Promise((resolve) => {
      const socket = connect(harness.port, '127.0.0.1', () => socket.write(request.replaceAll('\n', '\r\n'), () => resolve(socket)));
      socket.on('error', () => undefined);
    });

  it('that sends a body with its question gives its place back when it leaves', async () => {
    const socket = await openSocket(`GET /api/live HTTP/1.1\nHost: shed\nCookie: ${owner.cookie}\nContent-Type: application/json\nContent-Length: 2\n\n{}`);
    await left(1);
    socket.destroy();
    await left(0);
    expect(harness.service.listeners).toBe(0);
  });

  it('that takes nothing of what it is sent is cut off before it fills the memory', async () => {
    const refused = Object.fromEntries(Array.from({ length: 2_000 }, (_, index) => [`reason-${index}`, index]));
    writeFileSync(join(harness.directory, 'collector-status.json'), JSON.stringify({ ...collectorStatus, writtenAt: harnessStart, readings: { ...collectorStatus.readings, refused } }));
    const socket = await openSocket(`GET /api/live HTTP/1.1\nHost: shed\nCookie: ${owner.cookie}\n\n`);
    socket.pause();
    await left(1);
    // Each is some 40 kB: a kernel may take a few megabytes, the hub one more.
    for (let count = 0; count < 2_000 && harness.service.listeners > 0; count += 1) {
      harness.service.look();
      await new Promise((resolve) => setImmediate(resolve));
    }
    expect(harness.service.listeners).toBe(0);
    socket.destroy();
  });
});
