import { createReadStream, existsSync, statSync } from 'node:fs';
import { createServer, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import { extname, join, normalize } from 'node:path';
import { createFixtureShed, type FixtureShed } from './fixture-answers.ts';
import { fixtureNow, type ShedState } from './shed-fixture.ts';

/**
 * Serves a built dashboard and an invented shed, with the strict content policy of the real server, so that browser tests show what a
 * visitor would see. Not the real API: that one is tested with its own browser tests.
 */
export interface FixtureServer {
  readonly url: string;
  readonly shed: FixtureShed;
  readonly send: (name: string, data: unknown) => void;
  /** The shed computer is gone: streams end and every further request is dropped. */
  readonly cut: () => void;
  readonly mend: () => void;
  /** Every call answers with this instead. */
  readonly failWith: (status: number | null, text?: string) => void;
  /** What is asked for is done, and the answer never comes. */
  readonly loseAnswers: (lost: boolean) => void;
  /** Every act is refused with this; all else is answered. */
  readonly refuseActs: (text: string | null) => void;
  readonly close: () => Promise<void>;
}

const types: Readonly<Record<string, string>> = { '.html': 'text/html; charset=utf-8', '.js': 'text/javascript', '.css': 'text/css', '.woff2': 'font/woff2', '.svg': 'image/svg+xml' };

export const contentPolicy = "default-src 'self'; script-src 'self'; style-src 'self'; img-src 'self'; font-src 'self'; connect-src 'self'; object-src 'none'; base-uri 'none'; frame-ancestors 'none'";

export const serveFixtures = async (dist: string, state: ShedState): Promise<FixtureServer> => {
  const shed = createFixtureShed(state);
  const streams = new Set<ServerResponse>();
  let dropped = false;
  let failure: { readonly status: number; readonly text: string } | null = null;
  let losing = false;
  let refusal: string | null = null;
  let lastId = 0;

  const send = (name: string, data: unknown): void => {
    lastId += 1;
    for (const stream of streams) stream.write(`id: ${String(lastId)}\nevent: ${name}\ndata: ${JSON.stringify(data)}\n\n`);
  };
  shed.announce(send);
  const health = (): void => send('health', { status: 'ok', version: 'fixture', now: new Date(fixtureNow).toISOString() });

  const sendFile = (path: string, response: ServerResponse): void => {
    const wanted = normalize(join(dist, path));
    const file = wanted.startsWith(dist) && existsSync(wanted) && statSync(wanted).isFile() ? wanted : join(dist, 'index.html');
    response.writeHead(200, { 'content-type': types[extname(file)] ?? 'application/octet-stream', 'content-security-policy': contentPolicy });
    createReadStream(file).pipe(response);
  };

  const server = createServer((request, response) => {
    if (dropped) {
      request.socket.destroy();
      return;
    }
    const url = new URL(request.url ?? '/', 'http://localhost');
    if (url.pathname === '/api/live') {
      response.writeHead(200, { 'content-type': 'text/event-stream', 'cache-control': 'no-store' });
      response.write(': hello\n\nretry: 300\n\n');
      streams.add(response);
      response.on('close', () => streams.delete(response));
      health();
      return;
    }
    if (!url.pathname.startsWith('/api/')) {
      sendFile(url.pathname, response);
      return;
    }
    let text = '';
    request.on('data', (chunk: Buffer) => {
      text += chunk.toString('utf8');
    });
    request.on('end', () => {
      if (failure !== null) {
        response.writeHead(failure.status, { 'content-type': 'application/json' }).end(failure.text);
        return;
      }
      if (refusal !== null && request.method === 'POST') {
        response.writeHead(409, { 'content-type': 'application/problem+json' }).end(refusal);
        return;
      }
      const answer = shed.answer(request.method ?? 'GET', url.pathname, url.searchParams, text === '' ? undefined : JSON.parse(text), request.headers['idempotency-key']?.toString() ?? null);
      if (losing && request.method === 'POST') {
        request.socket.destroy();
        return;
      }
      response.writeHead(answer.status, { 'content-type': answer.status < 400 ? 'application/json' : 'application/problem+json' }).end(answer.body === null ? '' : JSON.stringify(answer.body));
    });
  });

  await new Promise<void>((resolve) => {
    server.listen(0, '127.0.0.1', resolve);
  });
  const { port } = server.address() as AddressInfo;
  const endStreams = (): void => {
    for (const stream of streams) stream.destroy();
    streams.clear();
  };
  return {
    url: `http://127.0.0.1:${String(port)}`,
    shed,
    send,
    cut: () => {
      dropped = true;
      endStreams();
      server.closeAllConnections();
    },
    mend: () => {
      dropped = false;
    },
    failWith: (status, body = '{}') => {
      failure = status === null ? null : { status, text: body };
    },
    loseAnswers: (lost) => {
      losing = lost;
    },
    refuseActs: (body) => {
      refusal = body;
    },
    close: () =>
      new Promise((resolve) => {
        endStreams();
        server.closeAllConnections();
        server.close(() => resolve());
      }),
  };
};
