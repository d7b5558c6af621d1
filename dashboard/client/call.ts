import { errorCodes, fail, keyHeader, ok, problem, routes, type ErrorCode, type Result, type RouteAnswer, type RouteBody, type RouteName, type RouteQuery, type Routes } from '#contract';

/**
 * One call for every route of the contract. Failures are values: what the API refused (its own codes), an answer that never came,
 * or one that does not fit the contract (an older or newer server).
 */
export interface Failure {
  readonly code: ErrorCode | 'unreachable' | 'not-understood';
  readonly title: string;
  readonly detail: string;
  readonly errors: readonly { readonly path: string; readonly message: string }[];
}

type ParameterNames<Path extends string> = Path extends `${string}{${infer Name}}${infer Rest}` ? Name | ParameterNames<Rest> : never;
type Parameters<Name extends RouteName> = [ParameterNames<Routes[Name]['path']>] extends [never] ? unknown : { readonly params: { readonly [Key in ParameterNames<Routes[Name]['path']>]: string } };
type Query<Name extends RouteName> = Routes[Name] extends { readonly query: unknown } ? { readonly query?: RouteQuery<Name> } : unknown;
type Body<Name extends RouteName> = Routes[Name] extends { readonly body: unknown } ? { readonly body: RouteBody<Name> } : unknown;

/** The mark of what is written, on routes that write nothing twice under the same one. */
type Mark<Name extends RouteName> = Routes[Name] extends { readonly keyed: true } ? { readonly key?: string } : unknown;

export type CallInput<Name extends RouteName> = Parameters<Name> & Query<Name> & Body<Name> & Mark<Name>;
type CallArguments<Name extends RouteName> = unknown extends CallInput<Name> ? [] : [CallInput<Name>];
export type Answered<Name extends RouteName> = Result<RouteAnswer<Name>, Failure>;
export type Call = <Name extends RouteName>(name: Name, ...input: CallArguments<Name>) => Promise<Answered<Name>>;

interface LooseInput {
  readonly params?: Readonly<Record<string, string>>;
  readonly query?: Readonly<Record<string, unknown>>;
  readonly body?: unknown;
  readonly key?: string;
}

/** `/drums/{drum}` with its parameters and query filled in, under `/api`. */
export const addressOf = (path: string, input: LooseInput): string => {
  const filled = path.replace(/\{(\w+)\}/g, (_, name: string) => encodeURIComponent(input.params?.[name] ?? ''));
  const query = new URLSearchParams();
  for (const [name, value] of Object.entries(input.query ?? {})) {
    if (typeof value === 'string' || typeof value === 'number') query.set(name, String(value));
  }
  return `/api${filled}${query.size > 0 ? `?${query.toString()}` : ''}`;
};

export const unreachable: Failure = { code: 'unreachable', title: 'No answer', detail: 'The shed computer does not answer. Nothing was changed; try again when the connection is back.', errors: [] };

export const notUnderstood = (detail: string): Failure => ({ code: 'not-understood', title: 'The answer is not understood', detail, errors: [] });

const isErrorCode = (code: string): code is ErrorCode => (errorCodes as readonly string[]).includes(code);

export const toFailure = (status: number, answer: unknown): Failure => {
  const parsed = problem.safeParse(answer);
  if (!parsed.success) return notUnderstood(`The shed computer refused this (${String(status)}) without saying why.`);
  const { code, title, detail, errors } = parsed.data;
  return { code: isErrorCode(code) ? code : 'internal', title, detail, errors: errors ?? [] };
};

export const createCall =
  (fetcher: typeof fetch): Call =>
  async (name, ...[given]) => {
    const route = routes[name];
    const input = (given ?? {}) as LooseInput;
    const headers = new Headers({ accept: 'application/json' });
    const request: RequestInit = { method: route.method.toUpperCase(), credentials: 'same-origin', headers };
    if (input.body !== undefined) {
      request.body = JSON.stringify(input.body);
      headers.set('content-type', 'application/json');
    }
    if (input.key !== undefined) headers.set(keyHeader, input.key);
    let response: Response;
    let answer: unknown;
    try {
      response = await fetcher(addressOf(route.path, input), request);
      const text = await response.text();
      answer = text === '' ? null : JSON.parse(text);
    } catch (cause) {
      return fail(cause instanceof SyntaxError ? notUnderstood('The shed computer answered with something that is not JSON.') : unreachable);
    }
    if (!response.ok) return fail(toFailure(response.status, answer));
    if (route.answer === null) return ok(null as RouteAnswer<typeof name>);
    const parsed = route.answer.safeParse(answer);
    return parsed.success ? ok(parsed.data as RouteAnswer<typeof name>) : fail(notUnderstood('This page and the shed computer are of different versions. Load the page again.'));
  };
