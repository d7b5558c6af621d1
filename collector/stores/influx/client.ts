import { StoreFailure } from '../failure.ts';
import type { InfluxAddress } from './address.ts';

/**
 * The two calls of InfluxDB 1.x that a store needs, over its HTTP interface (`/query` with InfluxQL, `/write` with the line protocol).
 * Written with `fetch` and not with the `influx` package: that one takes a host that failed out of use for a while and tries again by
 * itself, beside the outbox, which must be the only one to decide that; and it makes an object and a date of every row.
 */
export interface InfluxClient {
  /** One list of series for each statement. Rejects with a `StoreFailure` that may pass. */
  query(statements: readonly string[]): Promise<readonly (readonly InfluxSeries[])[]>;
  /** Resolves when the points are on InfluxDB's disk, or with the reason why it will never take one of them. */
  write(lines: string): Promise<{ readonly refused: string | null }>;
}

export interface InfluxSeries {
  readonly tags?: Readonly<Record<string, string>>;
  readonly values: readonly InfluxRow[];
}
/** Times are epoch milliseconds, and come first. */
export type InfluxRow = readonly (number | string | null)[];

interface QueryAnswer {
  readonly error?: string;
  readonly results?: readonly { readonly error?: string; readonly series?: readonly InfluxSeries[] }[];
}

const usualAnswerWithinMs = 10_000;
/** After a call that had no answer in time, further ones fail at once for this long: nobody waits ten seconds for each of many questions. */
const silentForMs = 5_000;
/** Said of the points themselves: the same points would be refused again. */
const aboutThePoints: ReadonlySet<number> = new Set([400, 413, 422]);

export const createInfluxClient = ({ url, database, authorization }: InfluxAddress, ended: AbortSignal, answerWithinMs = usualAnswerWithinMs): InfluxClient => {
  let silentUntil = -Infinity;
  const call = async (path: string, body: URLSearchParams | string): Promise<Response> => {
    if (performance.now() < silentUntil) throw away(new Error('no answer in time'));
    try {
      const signal = AbortSignal.any([ended, AbortSignal.timeout(answerWithinMs)]);
      return await fetch(`${url}${path}`, { method: 'POST', body, signal, redirect: 'error', headers: authorization === null ? {} : { authorization } });
    } catch (error) {
      if (error instanceof Error && error.name === 'TimeoutError') silentUntil = performance.now() + silentForMs;
      throw away(error instanceof Error ? (error.cause ?? error) : error);
    }
  };
  const textOf = async (response: Response): Promise<string> => {
    try {
      return await response.text();
    } catch (error) {
      throw away(error);
    }
  };

  return {
    query: async (statements) => {
      if (statements.length === 0) return [];
      const response = await call('/query', new URLSearchParams({ db: database, epoch: 'ms', q: statements.join(';') }));
      const text = await textOf(response);
      const answer = parsed(text);
      if (!response.ok || answer?.results === undefined) throw away(new Error(answer?.error ?? `HTTP ${response.status}`));
      const wrong = answer.results.find(({ error }) => error !== undefined)?.error;
      if (wrong !== undefined) throw away(new Error(wrong));
      if (answer.results.length !== statements.length) throw away(new Error('an answer to another question'));
      return answer.results.map(({ series = [] }) => series);
    },
    write: async (lines) => {
      const response = await call(`/write?db=${database}&precision=ms`, lines);
      const text = await textOf(response);
      if (response.ok) return { refused: null };
      const error = parsed(text)?.error ?? `HTTP ${response.status}`;
      if (aboutThePoints.has(response.status)) return { refused: error };
      throw away(new Error(error));
    },
  };
};

const away = (cause: unknown): StoreFailure => new StoreFailure('unreachable', { cause });

const parsed = (text: string): QueryAnswer | null => {
  try {
    return JSON.parse(text) as QueryAnswer;
  } catch {
    return null;
  }
};

/** Why InfluxDB did not answer, in the words of whoever knows. */
export const reasonOf = (error: unknown): string => {
  const cause = error instanceof StoreFailure ? error.cause : error;
  if (!(cause instanceof Error)) return String(cause);
  if ('code' in cause && typeof cause.code === 'string') return cause.code;
  return cause.message.replaceAll(/\s+/g, ' ');
};
