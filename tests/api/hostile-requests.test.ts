import { request } from 'node:http';
import { gzipSync } from 'node:zlib';
import { afterAll, afterEach, beforeAll, describe, expect, it, vi } from 'vitest';
import { toRfc3339 } from '#domain/units/time.ts';
import { expectProblem, harnessStart, openApiHarness, openShed, type Answer, type ApiClient, type ApiHarness } from '../helpers/api-harness.ts';

/** Requests no honest client sends: each is refused with its own problem, nothing is written, and nothing goes wrong inside. */
let harness: ApiHarness;
let owner: ApiClient;
let lot: string;
let written: number;
beforeAll(async () => {
  harness = await openApiHarness();
  owner = await harness.as('owner');
  lot = await openShed(harness);
  written = harness.service.model.book.lastSequence();
});
afterEach(() => {
  expect(harness.faults).toEqual([]);
  expect(harness.service.model.book.lastSequence()).toBe(written);
});
afterAll(() => harness.close());

const json = { 'content-type': 'application/json' };
const barrel = { id: 'barrel-7', name: 'Barrel 7', volumeL: 60 };
const post = (body: BodyInit, headers: Record<string, string> = json, path = '/api/drums') => owner.fetch(path, { method: 'POST', headers, body });

/** A request as it is written, path and headers untouched: `fetch` would tidy them up. */
const raw = (path: string, { method = 'GET', headers = {} }: { readonly method?: string; readonly headers?: Record<string, string | string[]> } = {}): Promise<Answer> =>
  new Promise((resolve, reject) => {
    const sent = request({ host: '127.0.0.1', port: harness.port, path, method, headers: { cookie: owner.cookie ?? '', ...headers } }, (response) => {
      let text = '';
      response.setEncoding('utf8').on('data', (piece: string) => (text += piece));
      response.on('end', () => {
        const answered = new Headers(Object.entries(response.headers).map(([name, value]): [string, string] => [name, String(value)]));
        resolve({ status: response.statusCode ?? 0, headers: answered, body: text.startsWith('{') ? JSON.parse(text) : text });
      });
    });
    sent.on('error', reject).end();
  });

describe('a body', () => {
  it.each(['{', '', ' ', 'nothing', "{'id': 1}", '{"id": NaN}', '{"volumeL": 1e}', '{"id": "a",}', '{"id": "\u0001"}', '[1, 2', '\ufeff{}x', '{"id": "barrel-7"} {"id": "barrel-8"}'])('%j is not JSON', async (body) => {
    // Nothing at all is an empty request, and lacks its fields.
    expectProblem(await post(body), body === '' ? 'does-not-fit' : 'not-json');
  });

  it.each(['null', '7', '"text"', 'true', '[]', '[{"id": "barrel-7"}]', '{}', '{"id": {"$ne": null}}', '{"id": ["barrel-7"]}'])('%s is JSON, and does not fit', async (body) => {
    expect(expectProblem(await post(body), 'does-not-fit').errors?.length).toBeGreaterThan(0);
  });

  // RFC 9110, section 15.5.16: the media type is told apart from the content.
  it.each(['text/plain', 'application/x-www-form-urlencoded', 'multipart/form-data; boundary=x', 'application/xml', 'application/jsonp', 'text/json', 'application/json; charset=latin1', ''])('as %j is not taken, whatever stands in it', async (type) => {
    expectProblem(await post(new TextEncoder().encode(JSON.stringify(barrel)), { 'content-type': type }), 'not-json-type');
  });

  it('that is packed is not unpacked: a small one could become a very large one', async () => {
    expectProblem(await post(gzipSync(JSON.stringify(barrel)), { ...json, 'content-encoding': 'gzip' }), 'not-json-type');
    expectProblem(await post(gzipSync(JSON.stringify({ ...barrel, name: ' '.repeat(10_000_000) })), { ...json, 'content-encoding': 'br' }), 'not-json-type');
  });

  it('larger than a quarter of a mebibyte is refused, just below it is read', async () => {
    const filled = (bytes: number): string => `{"x":"${'a'.repeat(bytes - 8)}"}`;
    expectProblem(await post(filled(262_145)), 'too-large');
    expectProblem(await post(filled(262_144)), 'does-not-fit');
    expectProblem(await harness.stranger().fetch('/api/session', { method: 'POST', headers: json, body: filled(1_000_000) }), 'too-large');
  });

  it('nested very deep is refused without a fault', async () => {
    expectProblem(await post('['.repeat(100_000)), 'not-json');
    expectProblem(await post(`{"id":${'['.repeat(50_000)}${']'.repeat(50_000)}}`), 'does-not-fit');
  });

  it.each(['__proto__', 'constructor', 'prototype', 'hasOwnProperty', 'toString'])('with a key %s changes no object but itself', async (key) => {
    const body = JSON.stringify({ ...barrel, id: 'Not A Slug' }).replace('{', `{"${key}":{"role":"owner","polluted":true,"insulated":true},`);
    expectProblem(await post(body), 'does-not-fit');
    expect(Object.prototype).not.toHaveProperty('polluted');
    expect({}).not.toHaveProperty('role');
    const task = (await owner.call('tasks')).tasks.find(({ kind }) => kind === 'change-brine');
    expectProblem(await post(`{"${key}":{"kind":"tasted","polluted":true}}`, json, `/api/tasks/${task?.id}/done`), 'does-not-fit');
    expect(Object.prototype).not.toHaveProperty('polluted');
  });

  it.each(['1e400', '-1e400', '1e-400', '123456789012345678901234567890', '0x10', 'Infinity', '"Infinity"', '[20]', '{"valueOf":20}'])('with the volume %s is refused', async (volume) => {
    const { status } = await post(JSON.stringify(barrel).replace('60', volume));
    expect([400, 422]).toContain(status);
  });
});

describe('a path', () => {
  it.each([
    '/api/drums/%2e%2e%2f%2e%2e%2fetc%2fpasswd',
    '/api/drums/..%2f..%2fpackage.json',
    '/api/drums/barrel-1%00',
    '/api/drums/%00',
    '/api/drums/barrel-1%0d%0aset-cookie:%20a=b',
    '/api/drums/%E0%A4%A',
    '/api/drums/%',
    '/api/drums/%ff',
    '/api/drums/barrel-1/..',
    '/api/../package.json',
    '/api/batches/%00/entries',
    '/%2e%2e/package.json',
    '/..%2fpackage.json',
    '//evil.example/%2e%2e',
    '/api//drums//x',
    '/package.json',
    '/access.db',
  ])('%s leads nowhere', async (path) => {
    const answer = await raw(path);
    expectProblem(answer, 'not-found');
    expect(answer.headers.get('set-cookie')).toBeNull();
  });

  it('of eight thousand letters leads nowhere, and longer than any header may be is refused by the server itself', async () => {
    expectProblem(await raw(`/api/drums/${'a'.repeat(8_000)}`), 'not-found');
    expect((await raw(`/api/drums/${'a'.repeat(20_000)}`)).status).toBe(431);
  });

  it('is not redirected by a host that the caller names', async () => {
    for (const headers of [{ host: 'evil.example' }, { host: 'evil.example', 'x-forwarded-host': 'evil.example' }, { host: '' }]) {
      const { status, headers: answered, body } = await raw('/api/health', { headers });
      expect(status).toBe(200);
      expect(answered.get('location')).toBeNull();
      expect(JSON.stringify(body)).not.toContain('evil');
    }
  });
});

describe('a query', () => {
  it.each([
    '/api/drums/barrel-1/readings?channel=temperature&channel=ph',
    '/api/drums/barrel-1/readings?points=5&points=6',
    '/api/drums/barrel-1/readings?points[]=5',
    '/api/drums/barrel-1/readings?points[$gt]=5',
    '/api/drums/barrel-1/readings?__proto__=x',
    '/api/drums/barrel-1/readings?constructor[prototype][polluted]=x',
    '/api/drums/barrel-1/readings?from=2026-10-03T12:00:00Z&from=2026-10-03T12:00:00Z',
    '/api/journal?limit=1&limit=2',
    '/api/journal?after=%00',
    '/api/journal?after=1%3BDROP%20TABLE%20entries',
    '/api/alerts?state=active&state=all',
    '/api/alerts?state=__proto__',
  ])('%s does not make sense', async (path) => {
    expectProblem(await raw(path), 'bad-query');
  });

  it('of two thousand fields does not make sense either', async () => {
    expectProblem(await raw(`/api/journal?${'x=1&'.repeat(2_000)}`), 'bad-query');
  });
});

describe('a page of another site', () => {
  // Fetch Metadata (W3C): a browser says so itself, and a page cannot change it.
  it.each(['cross-site', 'same-site'])('cannot act with the visitor\'s session (%s)', async (site) => {
    for (const [method, path] of [['POST', '/api/drums'], ['DELETE', '/api/session'], ['POST', '/api/alerts/x/acknowledge'], ['PUT', '/api/limits/leach-temperature-high'], ['POST', '/api/session']] as const) {
      expectProblem(await raw(path, { method, headers: { 'sec-fetch-site': site } }), 'not-allowed');
    }
    expect(await owner.call('session')).toMatchObject({ user: { name: 'owner' } });
  });

  it.each(['same-origin', 'none'])('is told from our own (%s)', async (site) => {
    expectProblem(await raw('/api/alerts/nothing/acknowledge', { method: 'POST', headers: { 'sec-fetch-site': site } }), 'not-found');
  });

  it('is never allowed to read: no answer carries a header of cross-origin sharing', async () => {
    for (const method of ['GET', 'OPTIONS', 'POST']) {
      const { headers } = await raw('/api/drums', { method, headers: { origin: 'https://evil.example', 'access-control-request-method': 'POST' } });
      expect([...headers.keys()].filter((name) => name.startsWith('access-control-'))).toEqual([]);
      expect(headers.get('cross-origin-resource-policy')).toBe('same-origin');
    }
  });
});

describe('who one is', () => {
  it.each([
    ['cookie', 'brineward_session='],
    ['cookie', 'brineward_session=null'],
    ['cookie', "brineward_session=' OR 1=1 --"],
    ['cookie', 'brineward_session=%00'],
    ['cookie', 'Brineward_Session=x; session=y'],
    ['authorization', 'Bearer '],
    ['authorization', `Bearer ${'a'.repeat(43)}`],
    ['x-user', 'owner'],
    ['x-forwarded-user', 'owner'],
  ])('cannot be made up: %s %j', async (name, value) => {
    expectProblem(await raw('/api/drums', { headers: { cookie: '', [name]: value } }), 'not-signed-in');
  });

  it('cannot be made up at length', async () => {
    expectProblem(await raw('/api/drums', { headers: { cookie: `brineward_session=${'x'.repeat(7_000)}` } }), 'not-signed-in');
    expectProblem(await raw('/api/drums', { headers: { cookie: '', authorization: `Bearer ${'a'.repeat(5_000)}` } }), 'not-signed-in');
  });

  it('is not told by a method in a header', async () => {
    expect((await raw('/api/drums', { headers: { 'x-http-method-override': 'DELETE' } })).status).toBe(200);
  });
});

describe('every answer', () => {
  it('is private, not to be kept, and not to be taken for anything else', async () => {
    for (const path of ['/api/drums', '/api/health', '/api/nothing', '/api/openapi.json']) {
      const { headers } = await owner.fetch(path);
      expect(headers.get('cache-control')).toBe('no-store');
      expect(headers.get('x-content-type-options')).toBe('nosniff');
      expect(headers.get('referrer-policy')).toBe('no-referrer');
      expect(headers.get('x-frame-options')).toBe('SAMEORIGIN');
      expect(headers.get('x-powered-by')).toBeNull();
      expect(headers.get('server')).toBeNull();
    }
  });

  it.each([
    // SQLITE_FULL and SQLITE_BUSY (sqlite.org/rescode.html).
    ['the disk is full', Object.assign(new Error('database or disk is full'), { errcode: 13 }), 'not-ready'],
    ['another process holds the journal', Object.assign(new Error('database is locked'), { errcode: 5 }), 'not-ready'],
    ['something is wrong inside', new TypeError("Cannot read properties of undefined (reading '/api/x.ts')"), 'internal'],
  ] as const)('when %s says that it is not the caller, nothing of the inside, and the fault is in the log', async (_what, fault, code) => {
    const append = vi.spyOn(harness.service.model.book, 'append').mockImplementation(() => {
      throw fault;
    });
    const { detail } = expectProblem(await post(JSON.stringify(barrel)), code);
    append.mockRestore();
    expect(detail).not.toMatch(/database|sqlite|locked|\.ts|undefined/i);
    expect(harness.faults.splice(0)).toEqual([fault]);
    await owner.refused('drum', 'not-found', { params: { drum: barrel.id } });
  });
});

it('an act may be as long as it is allowed to be, and no longer', async () => {
  expectProblem(await post(JSON.stringify({ kind: 'skimmed', at: toRfc3339(harnessStart), note: 'x'.repeat(501) }), json, `/api/batches/${lot}/entries`), 'does-not-fit');
});
