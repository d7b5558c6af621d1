import { createServer, type IncomingHttpHeaders, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { afterEach, describe, expect, it } from 'vitest';
import { beatHeart } from '../../../collector/outlets/heartbeat.ts';
import type { Letter } from '../../../collector/outlets/sender.ts';
import { sendWebhook, webhookSignature } from '../../../collector/outlets/webhook.ts';

const servers: Server[] = [];
afterEach(() => {
  for (const server of servers.splice(0)) {
    server.closeAllConnections();
    server.close();
  }
});

interface Hook {
  readonly url: string;
  readonly requests: { readonly method: string; readonly path: string; readonly headers: IncomingHttpHeaders; readonly body: string }[];
}

const openHook = async (status = 204, location?: string): Promise<Hook> => {
  const requests: Hook['requests'] = [];
  const server = createServer((request, response) => {
    let body = '';
    request.setEncoding('utf8');
    request.on('data', (chunk: string) => (body += chunk));
    request.on('end', () => {
      requests.push({ method: request.method ?? '', path: request.url ?? '', headers: request.headers, body });
      response.writeHead(status, location === undefined ? {} : { location }).end();
    });
  });
  servers.push(server);
  await new Promise<void>((resolve) => void server.listen(0, '127.0.0.1', resolve));
  return { url: `http://127.0.0.1:${(server.address() as AddressInfo).port}/secret-path`, requests };
};

const key = 'whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw';
const letter: Letter = { id: 'abc123', what: 'alerts', site: 'home', at: Date.UTC(2026, 9, 3, 12), lateMs: 7_000, alerts: [], sealLines: ['2026-10-02 entry 9 ff'], subject: 'subject', text: 'text' };
const sentAt = 1_614_265_330_000;

describe('a webhook', { timeout: 30_000 }, () => {
  it('is signed as Standard Webhooks 1.0 has it', () => {
    // The worked example of the reference libraries of that specification.
    expect(webhookSignature(key, 'msg_p5jXN8AQM9LWM0D4loKWxJek', 1_614_265_330, '{"test": 2432232314}')).toBe('v1,g0hM9SsE+OTPJTGt/tmIKtSyZlE3uFJELVlNIOLJ1OE=');
  });

  it('carries id, time and a signature over the very bytes that were sent', async () => {
    const hook = await openHook();
    expect(await sendWebhook(hook.url, key, letter, sentAt)).toBeNull();
    const [request] = hook.requests;
    expect(request).toMatchObject({ method: 'POST', path: '/secret-path', headers: { 'content-type': 'application/json', 'webhook-id': 'abc123', 'webhook-timestamp': '1614265330' } });
    expect(request?.headers['webhook-signature']).toBe(webhookSignature(key, 'abc123', 1_614_265_330, request?.body ?? ''));
    expect(request?.headers['webhook-signature']).not.toBe(webhookSignature(key, 'abc123', 1_614_265_330, `${request?.body ?? ''} `));
    expect(JSON.parse(request?.body ?? '')).toMatchObject({ type: 'brineward.alerts', timestamp: '2026-10-03T12:00:00.000Z', data: { site: 'home', lateS: 7, seals: ['2026-10-02 entry 9 ff'] } });
  });

  it('says what went wrong without telling the address', async () => {
    const refusing = await openHook(500);
    const host = new URL(refusing.url).host;
    expect(await sendWebhook(refusing.url, key, letter, sentAt)).toBe(`${host} answered 500.`);
    expect(await sendWebhook('http://127.0.0.1:1/secret-path', key, letter, sentAt)).toMatch(/^127\.0\.0\.1:1 cannot be reached/);
  });

  it('goes nowhere else: a redirect is a failure', async () => {
    const other = await openHook();
    const sending = await openHook(307, other.url);
    expect(await sendWebhook(sending.url, key, letter, sentAt)).toBe(`${new URL(sending.url).host} answered 307.`);
    expect(other.requests).toEqual([]);
  });
});

it('a heartbeat asks for the address and tells nothing of the shed', async () => {
  const hook = await openHook(200);
  expect(await beatHeart(hook.url)).toBeNull();
  expect(hook.requests.map(({ method, path, body }) => ({ method, path, body }))).toEqual([{ method: 'GET', path: '/secret-path', body: '' }]);
});
