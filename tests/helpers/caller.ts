/** A browser's side of the HTTP API, typed by the contract: `fetch` with the session cookie, and a reader of the event stream. */
import { livePath, routes, type LiveEventName, type LiveEvents, type RouteAnswer, type RouteName } from '#contract';
import { ownerPassword, type Place, type Running } from './running.ts';
import { until } from './until.ts';

export type LiveEvent = { [Name in LiveEventName]: { readonly id: string; readonly name: Name; readonly data: LiveEvents[Name] } }[LiveEventName];

export interface CallOptions {
  readonly params?: Readonly<Record<string, string>>;
  readonly query?: Readonly<Record<string, string>>;
  readonly body?: object;
}

export interface Caller {
  readonly cookie: string;
  /** Calls by the name in the route table; any other status than the one promised there is an error. */
  call<Name extends RouteName>(name: Name, options?: CallOptions): Promise<RouteAnswer<Name>>;
  /** Opens the live events; answers once the first has come. The list grows. */
  listen(place: Pick<Place, 'keep'>): Promise<readonly LiveEvent[]>;
}

/** A caller with a session that is there already; `http` may be a later run of the same shed. */
export const callerWith = (http: string, cookie: string): Caller => ({
  cookie,
  call: async (name, { params = {}, query = {}, body } = {}) => {
    const { method, path, status } = routes[name];
    const url = new URL(`${http}/api${path.replaceAll(/\{(\w+)\}/g, (_whole, key: string) => encodeURIComponent(params[key] ?? ''))}`);
    url.search = new URLSearchParams(query).toString();
    const sent = body ?? (method === 'get' ? undefined : {});
    const response = await fetch(url, { method: method.toUpperCase(), headers: { cookie, ...(sent === undefined ? {} : { 'content-type': 'application/json' }) }, ...(sent === undefined ? {} : { body: JSON.stringify(sent) }) });
    const text = await response.text();
    if (response.status !== status) throw new Error(`${name} answers ${response.status}: ${text}`);
    return (text === '' ? null : JSON.parse(text)) as RouteAnswer<typeof name>;
  },
  listen: async (place) => {
    const stop = new AbortController();
    place.keep(() => stop.abort());
    const response = await fetch(`${http}/api${livePath}`, { headers: { cookie, accept: 'text/event-stream' }, signal: stop.signal });
    const events: LiveEvent[] = [];
    if (response.status !== 200 || response.body === null) throw new Error(`${livePath} answers ${response.status}`);
    void readEvents(response.body, events);
    await until('the first live event', () => events.length > 0);
    return events;
  },
});

/** HTML Living Standard, section 9.2.6 "Interpreting an event stream", as far as this server uses it (line ends are LF). */
const readEvents = async (body: ReadableStream<Uint8Array>, events: LiveEvent[]): Promise<void> => {
  let rest = '';
  const decoder = new TextDecoder();
  try {
    for await (const bytes of body) {
      const blocks = (rest + decoder.decode(bytes, { stream: true })).split('\n\n');
      rest = blocks.pop() ?? '';
      for (const block of blocks) {
        const fields = block.split('\n').map((line) => /^([^:]*):? ?(.*)$/.exec(line) ?? []);
        const all = (name: string): string => fields.filter(([, field]) => field === name).map(([, , value]) => value).join('\n');
        if (all('data') !== '') events.push({ id: all('id'), name: all('event'), data: JSON.parse(all('data')) as unknown } as LiveEvent);
      }
    }
  } catch {
    // The server went away or the test is over; what was read stays.
  }
};

export const signIn = async (running: Pick<Running, 'http'>, name = 'owner', password: string = ownerPassword): Promise<Caller> => {
  const response = await fetch(`${running.http}/api/session`, { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify({ name, password }) });
  const cookie = response.headers.get('set-cookie')?.split(';')[0];
  if (response.status !== 200 || cookie === undefined) throw new Error(`sign-in answers ${response.status}: ${await response.text()}`);
  return callerWith(running.http, cookie);
};
