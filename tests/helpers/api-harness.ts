import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect } from 'vitest';
import { openBook, openSqliteStore, type Book, type Clock } from '#collector';
import { errors, problem, routes, type ErrorCode, type Problem, type Role, type RouteAnswer, type RouteBody, type RouteName } from '#contract';
import { byCollector, type Draft, type EntryBodies } from '#domain/journal/entry.ts';
import type { Channel } from '#domain/reading/channel.ts';
import { seriesId, type Quality } from '#domain/reading/reading.ts';
import type { ReadingStore } from '#domain/reading/store.ts';
import { minuteMs, toRfc3339, type EpochMs } from '#domain/units/time.ts';
import { openService, type Service, type ServiceOptions } from '../../api/service.ts';
import { readEventStream, type EventStream } from './event-stream.ts';
import { valueOf } from './value-of.ts';

/**
 * The API as it runs, on files of its own, over real HTTP on a port the machine picks, with a clock that stands until the test moves
 * it. Beside it the collector's side of the data directory: readings and entries come in as the collector would write them.
 */
export interface ApiHarness {
  readonly url: string;
  readonly port: number;
  readonly directory: string;
  readonly service: Service;
  /** The clock of the shed, by which everything is judged and written. */
  readonly clock: TestClock;
  /** The clock of the machine, by which sessions end and a silent collector is noticed. */
  readonly machine: TestClock;
  /** What went wrong inside: a test ends with none unless it takes them out. */
  readonly faults: unknown[];
  stranger(): ApiClient;
  /** Signed in as a user of a role, made on first use. */
  as(role: Role): Promise<ApiClient>;
  /** Readings as the collector stores them: each a minute after the other, the last one at `until` (now, if not given). */
  read(probe: string, values: readonly number[], options?: { readonly channel?: Channel; readonly until?: EpochMs; readonly everyMs?: number; readonly quality?: Quality }): Promise<void>;
  /** An entry of the collector, which the API hears of at its next tick. */
  collectorWrites(draft: Omit<Draft, 'who'>): void;
  /** The API ends and starts again on the same files. */
  restart(): Promise<void>;
  close(): Promise<void>;
}

export interface Answer<Body = unknown> {
  readonly status: number;
  readonly headers: Headers;
  readonly body: Body;
}

interface TestClock extends Clock {
  set(at: EpochMs): void;
  advance(ms: number): void;
}

interface Input {
  readonly params?: Readonly<Record<string, string>>;
  readonly query?: Readonly<Record<string, string | number>>;
  readonly body?: unknown;
}

export interface ApiClient {
  readonly cookie: string | null;
  /** Calls a route that must be answered; status and body are checked against the route's own row. */
  call<Name extends RouteName>(name: Name, input?: Input & { readonly body?: RouteBody<Name> }): Promise<RouteAnswer<Name>>;
  /** Calls a route that must be refused with this code; the answer is checked against the catalogue. */
  refused(name: RouteName, code: ErrorCode, input?: Input): Promise<Problem>;
  /** Any request at all. */
  fetch(path: string, init?: RequestInit): Promise<Answer>;
  /** Opens the event stream, as a browser does after a break when an id is given. */
  listen(lastEventId?: string): Promise<EventStream>;
}

/** 3 October 2026, 12:00 UTC. */
export const harnessStart = Date.UTC(2026, 9, 3, 12);

export const addressOf = (name: RouteName, { params = {}, query = {} }: Input = {}): string => {
  const path = routes[name].path.replaceAll(/\{(\w+)\}/g, (_whole, parameter: string) => encodeURIComponent(params[parameter] ?? ''));
  const search = new URLSearchParams(Object.entries(query).map(([key, value]) => [key, String(value)])).toString();
  return `/api${path}${search === '' ? '' : `?${search}`}`;
};

/** Problem details (RFC 9457) from the one catalogue: code, status and title belong together. */
export const expectProblem = ({ status, headers, body }: Answer, code: ErrorCode): Problem => {
  const parsed = problem.strict().parse(body);
  expect(parsed).toMatchObject({ code, status, title: errors[code].title });
  expect(status).toBe(errors[code].status);
  expect(headers.get('content-type')).toBe('application/problem+json; charset=utf-8');
  return parsed;
};

export const openApiHarness = async (options: Partial<Pick<ServiceOptions, 'dashboard' | 'demo' | 'serverLimits' | 'store'>> & { readonly zone?: string; readonly site?: string } = {}): Promise<ApiHarness> => {
  const directory = mkdtempSync(join(tmpdir(), 'brineward-api-'));
  const faults: unknown[] = [];
  const clock = createClock();
  const machine = createClock();
  const book: Book = valueOf(openBook(join(directory, 'book.db')));
  const store: ReadingStore = valueOf(openSqliteStore({ file: join(directory, 'readings.db') }));
  const site = options.site ?? 'home';
  const zone = options.zone ?? 'UTC';
  book.append([{ who: byCollector, kind: 'site-opened', body: { site, name: 'Home', zone } }], clock.now());

  const start = async (): Promise<{ service: Service; port: number }> => {
    const service = valueOf(
      openService({
        directory,
        facts: { site, name: 'Home', zone, version: '0.0.0', demo: options.demo !== undefined, mqtt: { host: '127.0.0.1', port: 1883, external: false } },
        clock,
        machineNow: machine.now,
        demo: options.demo ?? null,
        dashboard: options.dashboard ?? null,
        ...(options.store === undefined ? {} : { store: options.store }),
        ...(options.serverLimits === undefined ? {} : { serverLimits: options.serverLimits }),
        written: () => undefined,
        failed: (error) => faults.push(error),
      }),
    );
    return { service, port: valueOf(await service.listen('127.0.0.1', 0)) };
  };
  let running = await start();
  const url = (): string => `http://127.0.0.1:${running.port}`;
  const clients = new Map<Role, ApiClient>();
  const streams = new Set<EventStream>();

  const createClient = (token?: string): ApiClient => {
    let cookie = token === undefined ? null : `brineward_session=${token}`;
    const fetchFrom: ApiClient['fetch'] = async (path, init = {}) => {
      const headers = new Headers(init.headers);
      if (cookie !== null && !headers.has('cookie')) headers.set('cookie', cookie);
      const response = await fetch(`${url()}${path}`, { redirect: 'manual', ...init, headers });
      const [pair] = (response.headers.get('set-cookie') ?? '').split(';');
      if (pair !== undefined && pair !== '') cookie = pair.endsWith('=') ? null : pair;
      const text = await response.text();
      const isJson = /[/+]json(;|$)/.test(response.headers.get('content-type') ?? '');
      return { status: response.status, headers: response.headers, body: isJson ? JSON.parse(text) : text };
    };
    const send = (name: RouteName, input: Input): Promise<Answer> =>
      fetchFrom(addressOf(name, input), { method: routes[name].method.toUpperCase(), ...(input.body === undefined ? {} : { headers: { 'content-type': 'application/json' }, body: JSON.stringify(input.body) }) });
    return {
      get cookie() {
        return cookie;
      },
      call: async (name, input = {}) => {
        const { status, body } = await send(name, input);
        const route = routes[name];
        expect({ name, status, ...(status === route.status ? {} : { body }) }).toEqual({ name, status: route.status });
        if (route.answer === null) {
          expect(body).toBe('');
          return null as RouteAnswer<typeof name>;
        }
        const parsed = route.answer.parse(body);
        // Nothing is answered that the contract does not tell.
        expect(body).toEqual(parsed);
        return parsed as RouteAnswer<typeof name>;
      },
      refused: async (name, code, input = {}) => expectProblem(await send(name, input), code),
      fetch: fetchFrom,
      listen: async (lastEventId = '') => {
        const stop = new AbortController();
        const response = await fetch(`${url()}/api/live`, { signal: stop.signal, headers: { accept: 'text/event-stream', ...(cookie === null ? {} : { cookie }), ...(lastEventId === '' ? {} : { 'last-event-id': lastEventId }) } });
        expect(response.status).toBe(200);
        expect(response.headers.get('content-type')).toBe('text/event-stream');
        const stream = readEventStream(response, stop, lastEventId);
        streams.add(stream);
        return stream;
      },
    };
  };

  return {
    get url() {
      return url();
    },
    get port() {
      return running.port;
    },
    directory,
    get service() {
      return running.service;
    },
    clock,
    machine,
    faults,
    stranger: () => createClient(),
    as: async (role) => {
      const known = clients.get(role);
      if (known !== undefined) return known;
      const { access } = running.service;
      await access.addUser(role, role, passwordOf(role));
      const client = createClient(access.openSession({ name: role, role }).token);
      clients.set(role, client);
      return client;
    },
    read: async (probe, values, { channel = 'temperature', until = clock.now(), everyMs = minuteMs, quality = 'good' } = {}) => {
      await store.append(values.map((value, index) => ({ series: seriesId(probe, channel), at: until - (values.length - 1 - index) * everyMs, value, quality })));
    },
    collectorWrites: (draft) => {
      book.append([{ who: byCollector, ...draft } as Draft], clock.now());
      running.service.tick();
    },
    restart: async () => {
      await running.service.close();
      running = await start();
    },
    close: async () => {
      for (const stream of streams) stream.close();
      await running.service.close();
      await store.close();
      book.close();
      rmSync(directory, { recursive: true });
      expect(faults).toEqual([]);
    },
  };
};

const createClock = (): TestClock => {
  let now = harnessStart;
  return {
    now: () => now,
    set: (at) => {
      now = at;
    },
    advance: (ms) => {
      now += ms;
    },
  };
};

export const passwordOf = (role: Role): string => `the ${role} of the shed`;

/** A drum, a probe that watches it, and a batch that was started ten days ago; answers the lot. */
export const openShed = async (harness: ApiHarness, batch: Partial<RouteBody<'openBatch'>> = {}): Promise<string> => {
  const owner = await harness.as('owner');
  const now = harness.clock.now();
  await harness.read('p1', [18, 18.5, 19]);
  await owner.call('addDrum', { body: { id: 'barrel-1', name: 'Barrel 1', volumeL: 60 } });
  await owner.call('place', { params: { probe: 'p1' }, body: { channel: 'temperature', drum: 'barrel-1', from: toRfc3339(now - tenDaysMs) } });
  const { lot } = await owner.call('openBatch', {
    body: { drum: 'barrel-1', pickedAt: toRfc3339(now - tenDaysMs), startedAt: toRfc3339(now - tenDaysMs), cut: 'slit', style: 'changed-brine', maturity: 'green', fruitKg: 30, brineL: 27, saltGPerL: 100, ...batch },
  });
  return lot;
};

export const tenDaysMs = 10 * 24 * 60 * minuteMs;

/** The body of a raised alert, as the collector writes it when a drum is warm. */
export const warmAlert = (harness: ApiHarness, lot: string, id = 'barrel-1-leach-temperature-danger-20261003t120000z'): EntryBodies['alert-raised'] => {
  const at = toRfc3339(harness.clock.now());
  return {
    id,
    rule: 'leach-temperature-danger',
    drum: 'barrel-1',
    lot,
    quantity: 'temperature',
    priority: 'high',
    since: at,
    at,
    value: 31,
    limit: { value: 30, unit: 'Cel', source: 'a source', side: 'high' },
    text: 'Barrel 1 is warm.',
    advice: 'Cool it.',
  };
};
