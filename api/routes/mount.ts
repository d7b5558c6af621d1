import type { Request, RequestHandler, Response, Router } from 'express';
import { keyHeader, keyPattern, routes, type Role, type RouteAnswer, type RouteName, type Routes } from '#contract';
import type { z } from 'zod';
import type { User } from '../access/access-store.ts';
import type { UserOf } from '../access/session-cookie.ts';
import { ApiError, doesNotFit, unfit } from '../errors.ts';

/** What a handler gets: parsed by the route's own schemas, and who asks (null only on open routes). */
export interface Call<Name extends RouteName> {
  readonly params: Readonly<Record<string, string>>;
  readonly query: Routes[Name] extends { query: infer Query extends z.ZodType } ? z.output<Query> : undefined;
  readonly body: Routes[Name] extends { body: infer Body extends z.ZodType } ? z.output<Body> : undefined;
  /** The mark of the sender on keyed routes; null where there is none. */
  readonly key: string | null;
  readonly user: Routes[Name]['roles'] extends 'open' ? User | null : User;
  readonly request: Request;
  readonly response: Response;
}

export type Handler<Name extends RouteName> = (call: Call<Name>) => Promise<RouteAnswer<Name>> | RouteAnswer<Name>;
export type Handlers<Names extends RouteName> = { readonly [Name in Names]: Handler<Name> };

/** Mounts handlers by the names of the route table: role, query and body are checked here, once, for all of them. */
export const mount = <Names extends RouteName>(router: Router, handlers: Handlers<Names>, userOf: UserOf, before: Partial<Record<RouteName, RequestHandler>> = {}): void => {
  for (const name of Object.keys(handlers) as Names[]) {
    const route = routes[name];
    const path = route.path.replaceAll(/\{(\w+)\}/g, ':$1');
    const handle: RequestHandler = async (request, response) => {
      const user = userOf(request);
      if (route.roles !== 'open') allow(user, route.roles);
      const query = 'query' in route ? parse(route.query, request.query, 'bad-query') : undefined;
      const body = 'body' in route ? parse(route.body, jsonBody(request), 'does-not-fit') : undefined;
      const key = 'keyed' in route ? keyOf(request) : null;
      const call = { params: request.params, query, body, key, user, request, response } as unknown as Call<Names>;
      const answer = await handlers[name](call);
      if (answer === null) response.status(route.status).end();
      else response.status(route.status).json(answer);
    };
    const first = before[name];
    router[route.method](path, ...(first === undefined ? [] : [first]), handle);
  }
};

export const allow = (user: User | null, allowed: readonly Role[]): User => {
  if (user === null) throw new ApiError('not-signed-in', 'Sign in, or send a token.');
  if (!allowed.includes(user.role)) throw new ApiError('not-allowed', `This needs the role ${allowed.join(' or ')}; ${user.name} has the role ${user.role}.`);
  return user;
};

const parse = (schema: z.ZodType, value: unknown, code: 'bad-query' | 'does-not-fit'): unknown => {
  const parsed = schema.safeParse(value);
  if (!parsed.success) throw doesNotFit(parsed.error, code);
  return parsed.data;
};

const keyOf = (request: Request): string | null => {
  const key = request.get(keyHeader);
  if (key === undefined) return null;
  if (!keyPattern.test(key)) throw unfit(keyHeader, 'is 16 to 64 letters, digits or dashes');
  return key;
};

const jsonBody = (request: Request): unknown => {
  const hasBody = request.headers['transfer-encoding'] !== undefined || (request.headers['content-length'] ?? '0') !== '0';
  if (!hasBody) return {};
  // Only JSON: a form sent by a foreign page is refused before anything is read from it.
  if (request.is('application/json') === false) throw new ApiError('not-json-type', 'The body must be application/json. Nothing was written.');
  return request.body as unknown;
};
