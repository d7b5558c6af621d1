import { connect, type Socket } from 'node:net';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { createHttpServer, listen } from '../../api/server.ts';
import { openApiHarness, type ApiHarness } from '../helpers/api-harness.ts';

/** Callers who are slow on purpose: given the time it takes to send a request, then let go. The times are short ones of the test. */
let harness: ApiHarness;
beforeEach(async () => {
  harness = await openApiHarness({ serverLimits: { headersTimeoutMs: 100, requestTimeoutMs: 200, checkEveryMs: 20, mostConnections: 20 } });
});
afterEach(() => harness.close());

const open = (port = harness.port): Promise<Socket> =>
  new Promise((resolve) => {
    const socket = connect(port, '127.0.0.1', () => resolve(socket));
    socket.on('error', () => undefined);
  });

/** What comes until the server closes. */
const untilClosed = (socket: Socket): Promise<string> =>
  new Promise((resolve) => {
    let text = '';
    socket.setEncoding('utf8').on('data', (piece: string) => (text += piece));
    socket.once('close', () => resolve(text));
  });

describe('a caller', () => {
  it('who never ends the head of a request is sent away', async () => {
    const socket = await open();
    socket.write('GET /api/health HTTP/1.1\r\nHost: shed\r\n');
    expect(await untilClosed(socket)).toMatch(/^HTTP\/1\.1 408 /);
  });

  it('who never ends the body is sent away', async () => {
    const socket = await open();
    socket.write('POST /api/session HTTP/1.1\r\nHost: shed\r\nContent-Type: application/json\r\nContent-Length: 100\r\n\r\n{"name":');
    expect(await untilClosed(socket)).toMatch(/^HTTP\/1\.1 408 /);
  });

  it('who speaks something else is refused', async () => {
    const socket = await open();
    socket.write('\x10\x13\x00\x04MQTT\x04\x02\x00\x3c\x00\x07probe-1\r\n\r\n');
    expect(await untilClosed(socket)).toMatch(/^HTTP\/1\.1 400 /);
  });

  it('whose request can be read in two ways is refused (RFC 9112, section 6.1)', async () => {
    const socket = await open();
    socket.write('POST /api/session HTTP/1.1\r\nHost: shed\r\nContent-Length: 4\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\nGET /api/drums HTTP/1.1\r\n\r\n');
    expect(await untilClosed(socket)).toMatch(/^HTTP\/1\.1 400 /);
  });

  it('who listens to the event stream may stay as long as it likes', async () => {
    const owner = await harness.as('owner');
    const stream = await owner.listen();
    const socket = await open();
    socket.write('GET /api/health HTTP/1.1\r\n');
    // A slow one that came later has been sent away by then.
    await untilClosed(socket);
    harness.service.look();
    const length = stream.events.length;
    harness.service.look();
    await stream.find(() => stream.events.length > length);
    expect(harness.service.listeners).toBe(1);
  });
});

it('more connections than the limit are not taken, and those that are there are served on', async () => {
  const patient = await openApiHarness({ serverLimits: { headersTimeoutMs: 10_000, requestTimeoutMs: 10_000, checkEveryMs: 1_000, mostConnections: 20 } });
  const sockets = await Promise.all(Array.from({ length: 30 }, () => open(patient.port)));
  const there = new Set(sockets);
  for (const socket of sockets) socket.resume().once('close', () => there.delete(socket));
  while (there.size > 20) await new Promise((resolve) => setImmediate(resolve));
  const [first] = there;
  if (first === undefined) throw new Error('nobody was taken');
  first.write('GET /api/health HTTP/1.1\r\nHost: shed\r\nConnection: close\r\n\r\n');
  expect(await untilClosed(first)).toMatch(/^HTTP\/1\.1 200 /);
  for (const socket of there) socket.destroy();
  await patient.close();
});

it('a taken port or a host that is not ours is a failure that says what to do', async () => {
  const server = createHttpServer(() => undefined, () => undefined);
  expect(await listen(server, '127.0.0.1', harness.port)).toEqual({ ok: false, error: { message: `Port ${harness.port} on 127.0.0.1 is taken. Stop what uses it, or choose another with --port.` } });
  // 192.0.2.0/24 is kept for documentation (RFC 5737): no machine has an address in it.
  expect(await listen(server, '192.0.2.1', 0)).toMatchObject({ ok: false, error: { message: expect.stringContaining('--host') as string } });
  const port = await listen(server, '127.0.0.1', 0);
  expect(port).toMatchObject({ ok: true });
  server.close();
});

it('a connection that cannot be taken is told, and is not the end', async () => {
  const faults: unknown[] = [];
  const server = createHttpServer(() => undefined, (error) => faults.push(error));
  await listen(server, '127.0.0.1', 0);
  const error = new Error('accept EMFILE');
  server.emit('error', error);
  expect(faults).toEqual([error]);
  server.close();
});
