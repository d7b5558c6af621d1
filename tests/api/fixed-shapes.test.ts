import { afterAll, beforeAll, expect, it } from 'vitest';
import { hourMs } from '#contract';
import { toRfc3339 } from '#domain/units/time.ts';
import { harnessStart, openApiHarness, openShed, warmAlert, type ApiClient, type ApiHarness } from '../helpers/api-harness.ts';

/**
 * Names other people's equipment relies on, written out here once more and on purpose: a schema that changes together with the server
 * would not notice. More fields may come; none of these may go, change its name or its type.
 */
let harness: ApiHarness;
let owner: ApiClient;
let lot: string;
beforeAll(async () => {
  harness = await openApiHarness();
  owner = await harness.as('owner');
  lot = await openShed(harness);
  await owner.call('addEntry', { params: { lot }, body: { kind: 'measured', at: toRfc3339(harnessStart - hourMs), quantity: 'salinity', value: 82 } });
  harness.collectorWrites({ kind: 'alert-raised', body: warmAlert(harness, lot) });
});
afterAll(() => harness.close());

const text = expect.any(String) as string;
const number = expect.any(Number) as number;
const list = expect.any(Array) as unknown[];
const time = expect.stringMatching(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z$/) as string;

const get = async (path: string): Promise<unknown> => {
  const { status, headers, body } = await owner.fetch(path);
  expect(status).toBe(200);
  expect(headers.get('content-type')).toMatch(/^application\/json/);
  return body;
};
const value = { value: number, unit: text, at: time, ageS: number, quality: text };

it('GET /api/drums', async () => {
  expect(await get('/api/drums')).toMatchObject({
    drums: [
      {
        id: 'barrel-1',
        name: 'Barrel 1',
        volumeL: 60,
        now: { temperature: { ...value, unit: 'Cel' }, ph: { absent: text }, salinity: { ...value, unit: 'g/L' } },
        batch: { lot },
        alerts: [{ id: text }],
        nextTask: { id: text },
      },
    ],
  });
});

it('GET /api/drums/{drum}/readings', async () => {
  const body = await get(`/api/drums/barrel-1/readings?channel=temperature&from=${harnessStart - hourMs}&to=${toRfc3339(harnessStart + 1)}&points=2`);
  expect(body).toMatchObject({ channel: 'temperature', unit: 'Cel', level: 'raw', points: [{ t: number, mean: number, min: number, max: number, count: number }, { t: number }], gaps: [{ from: number, to: number }] });
});

it('GET /api/probes', async () => {
  expect(await get('/api/probes')).toMatchObject({
    probes: [{ id: 'p1', channels: [{ channel: 'temperature', unit: 'Cel', last: { value: 19, at: time }, placement: { drum: 'barrel-1', from: time } }], presence: text, calibrations: [], health: text }],
  });
});

it('GET /api/batches and /api/batches/{lot}', async () => {
  const batch = { lot, drum: 'barrel-1', pickedAt: time, startedAt: time, cut: 'slit', style: 'changed-brine', maturity: 'green', fruitKg: 30, brineL: 27, saltGPerL: 100, stage: 'leach', day: 11, forecast: { unknown: text } };
  const body = (await get(`/api/batches/${lot}`)) as { forecast: object };
  // With a few minutes of readings either form may be the honest one; each is checked for itself elsewhere.
  const forecast = 'unknown' in body.forecast ? { unknown: text } : { readyFrom: time, readyLikely: time, readyTo: time, basis: text };
  expect(body).toMatchObject({ ...batch, forecast, entries: [{ kind: 'measured', at: time, sequence: number }], limits: list, excursions: [{ from: time, to: null }] });
  expect(await get('/api/batches')).toMatchObject({ batches: [{ ...batch, forecast }] });
});

it('GET /api/tasks', async () => {
  const { tasks } = (await get('/api/tasks')) as { tasks: unknown[] };
  expect(tasks.length).toBeGreaterThan(0);
  for (const task of tasks) expect(task).toMatchObject({ id: text, drum: 'barrel-1', lot, kind: text, dueAt: time, overdue: expect.any(Boolean) as boolean, text });
});

it('GET /api/alerts', async () => {
  for (const query of ['', '?state=active', '?state=unacknowledged']) {
    expect(await get(`/api/alerts${query}`)).toMatchObject({
      alerts: [
        { id: text, drum: 'barrel-1', lot, rule: text, quantity: 'temperature', priority: 'high', state: 'unacknowledged', raisedAt: time, returnedAt: null, peak: 31, limit: { value: 30, unit: 'Cel', source: text }, text, advice: text },
      ],
    });
  }
});

it('GET /api/limits', async () => {
  const { limits } = (await get('/api/limits')) as { limits: Record<string, unknown>[] };
  for (const limit of limits) {
    expect(limit).toMatchObject({ id: text, kind: text, quantity: text, deadband: number, onDelayS: number, offDelayS: number, priority: text, source: text });
    for (const bound of ['low', 'high']) expect(limit[bound] === null || typeof limit[bound] === 'number').toBe(true);
    for (const scope of ['stage', 'style']) expect(limit[scope] === null || typeof limit[scope] === 'string').toBe(true);
  }
});

it('GET /api/journal', async () => {
  expect(await get('/api/journal?after=1&limit=1')).toEqual({ entries: [{ sequence: 2, time, who: text, kind: 'drum-added', body: { id: 'barrel-1', name: 'Barrel 1', volumeL: 60, insulated: false }, previousHash: expect.stringMatching(/^[0-9a-f]{64}$/) as string, hash: expect.stringMatching(/^[0-9a-f]{64}$/) as string }] });
});

it('GET /api/health', async () => {
  expect(await get('/api/health')).toMatchObject({ status: 'degraded', version: text, collector: { status: text }, outlets: [] });
});

it('every time in every answer is RFC 3339 in UTC, and every number is one', async () => {
  const wrong: unknown[] = [];
  const walk = (path: string, name: string, at: unknown): void => {
    const isTime = typeof at === 'string' && (/At$|^(at|since|now|from|to)$/.test(name) || /^\d{4}-\d\d-\d\dT/.test(at));
    if (isTime && !/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{3}Z$/.test(at)) wrong.push([path, name, at]);
    if (typeof at === 'number' && !Number.isFinite(at)) wrong.push([path, name, at]);
    if (typeof at === 'object' && at !== null) for (const [key, inner] of Object.entries(at)) walk(path, Array.isArray(at) ? name : key, inner);
  };
  for (const path of ['/api/drums', '/api/wall', '/api/probes', `/api/batches/${lot}`, '/api/tasks', '/api/alerts', '/api/limits', '/api/site']) walk(path, '', await get(path));
  expect(wrong).toEqual([]);
});
