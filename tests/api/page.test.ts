import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { expectProblem, openApiHarness, type ApiHarness } from '../helpers/api-harness.ts';

/** The built dashboard as it is served, here of two small files. */
let harness: ApiHarness;
let dist: string;
beforeAll(async () => {
  dist = mkdtempSync(join(tmpdir(), 'brineward-dist-'));
  mkdirSync(join(dist, 'assets'));
  writeFileSync(join(dist, 'index.html'), '<!doctype html><title>Brineward</title>');
  writeFileSync(join(dist, 'assets', 'main-4f2a.js'), 'export {};');
  writeFileSync(join(dist, '.secret'), 'x');
  harness = await openApiHarness({ dashboard: dist });
});
afterAll(async () => {
  await harness.close();
  rmSync(dist, { recursive: true });
});

const get = (path: string, init?: RequestInit) => harness.stranger().fetch(path, init);

describe('the page', () => {
  it.each(['/', '/drum/barrel-1', '/batch/HO26-AB', '/sign-in', '/index.html'])('is served to anyone at %s, and asked for each time', async (path) => {
    const { status, headers, body } = await get(path);
    expect({ status, body }).toEqual({ status: 200, body: '<!doctype html><title>Brineward</title>' });
    expect(headers.get('content-type')).toContain('text/html');
    expect(headers.get('cache-control')).toMatch(/no-cache/);
  });

  it('answers HEAD as it answers GET, without the content', async () => {
    expect(await get('/', { method: 'HEAD' })).toMatchObject({ status: 200, body: '' });
  });

  it('is not what a program gets that asks for JSON, nor what a missing file looks like', async () => {
    expectProblem(await get('/nothing', { headers: { accept: 'application/json' } }), 'not-found');
    expectProblem(await get('/assets/main-old.js'), 'not-found');
    expectProblem(await get('/api/nothing', { headers: { accept: 'text/html' } }), 'not-found');
    expectProblem(await get('/', { method: 'POST' }), 'not-found');
  });

  it('hands out no hidden file and nothing from outside its folder', async () => {
    for (const path of ['/.secret', '/assets/..%2f.secret', '/%2e%2e/package.json', '/assets/%00']) {
      const { status, body } = await get(path);
      expect(String(body)).not.toBe('x');
      expect([200, 404]).toContain(status);
    }
  });

  it('is whole or not at all: a wish for a part is not a fault inside', async () => {
    for (const path of ['/', '/assets/main-4f2a.js']) expect(await get(path, { headers: { range: 'bytes=9999-' } })).toMatchObject({ status: 200 });
    expectProblem(await get('/assets/main-4f2a.js', { headers: { 'if-match': '"another"' } }), 'bad-request');
  });

  it('has scripts that never change under their name', async () => {
    const { headers, body } = await get('/assets/main-4f2a.js');
    expect(body).toBe('export {};');
    expect(headers.get('cache-control')).toBe('public, max-age=31536000, immutable');
    expect(headers.get('content-type')).toContain('javascript');
  });
});

// Content Security Policy Level 3 (W3C): what is not named falls back to default-src, here nothing.
describe('the content policy', () => {
  const directives = async (path: string): Promise<Map<string, string[]>> => {
    const policy = (await get(path)).headers.get('content-security-policy') ?? '';
    return new Map(policy.split(';').map((directive): [string, string[]] => {
      const [name = '', ...sources] = directive.trim().split(' ');
      return [name, sources];
    }));
  };

  it.each(['/', '/api/health', '/assets/main-4f2a.js', '/api/nothing'])('stands on %s and allows only our own files', async (path) => {
    const policy = await directives(path);
    expect(policy.get('default-src')).toEqual(["'none'"]);
    for (const name of ['script-src', 'style-src', 'font-src', 'connect-src']) expect(policy.get(name)).toEqual(["'self'"]);
    for (const name of ['base-uri', 'frame-ancestors']) expect(policy.get(name)).toEqual(["'none'"]);
    const sources = [...policy.values()].flat();
    expect(sources.filter((source) => /unsafe|\*|https?:|blob:/.test(source))).toEqual([]);
  });

  it('does not promise TLS, which a shed without a certificate could not keep', async () => {
    const { headers } = await get('/');
    expect(headers.get('strict-transport-security')).toBeNull();
    expect(headers.get('content-security-policy')).not.toContain('upgrade-insecure-requests');
  });
});
