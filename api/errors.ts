import type { ErrorRequestHandler, RequestHandler } from 'express';
import type { z } from 'zod';
import { failureOf } from '#collector';
import { errors, type ErrorCode, type Problem } from '#contract';

/** Further members of the problem: the rule, what may be done instead, the holds, what may have been meant. */
type More = Pick<Problem, 'rule' | 'instead' | 'holds' | 'didYouMean'>;

/** An expected failure on its way to the one place that answers it (RFC 9457 problem details). */
export class ApiError extends Error {
  readonly code: ErrorCode;
  readonly fields: Problem['errors'];
  readonly more: More;

  constructor(code: ErrorCode, detail: string, fields?: Problem['errors'], more: More = {}) {
    super(detail);
    this.name = 'ApiError';
    this.code = code;
    this.fields = fields;
    this.more = more;
  }
}

/** The fields of a request that do not fit, each with its path. */
export const doesNotFit = (error: z.ZodError, code: ErrorCode = 'does-not-fit'): ApiError => {
  const fields = error.issues.flatMap(flatten);
  const first = fields[0];
  return new ApiError(code, first === undefined ? 'Nothing was written.' : `${first.path === '' ? 'The request' : first.path}: ${first.message}. Nothing was written.`, fields);
};

/** A union reports each of its branches; the branch that got furthest says what is wrong. */
const flatten = (issue: z.core.$ZodIssue): { path: string; message: string }[] => {
  if (issue.code === 'invalid_union' && issue.errors.length > 0) {
    const branches = issue.errors.map((branch) => branch.flatMap((inner) => flatten({ ...inner, path: [...issue.path, ...inner.path] })));
    return branches.sort((one, other) => one.length - other.length)[0] ?? [];
  }
  const path = (...further: readonly PropertyKey[]): string => [...issue.path, ...further].map(String).join('.');
  if (issue.code === 'unrecognized_keys') return issue.keys.map((key) => ({ path: path(key), message: 'is not known here' }));
  return [{ path: path(), message: issue.message }];
};

/** One field that makes no sense, found after the schema was satisfied. */
export const unfit = (path: string, message: string): ApiError => new ApiError('does-not-fit', `${path}: ${message}. Nothing was written.`, [{ path, message }]);

export const notFound = (what: string): ApiError => new ApiError('not-found', `There is no ${what}.`);

export const noSuchPath: RequestHandler = (request, _response, next) => {
  next(notFound(`${request.method} ${request.path}`));
};

export const answerErrors =
  (log: (error: unknown) => void): ErrorRequestHandler =>
  (error: unknown, _request, response, _next) => {
    // Half an answer is out: the one thing still to be said is that it is not whole.
    if (response.headersSent) {
      log(error);
      response.destroy();
      return;
    }
    const known = toApiError(error);
    if (known.code === 'internal' || known.code === 'not-ready') log(error);
    const { status, title } = errors[known.code];
    const problem: Problem = { type: 'about:blank', title, status, code: known.code, detail: known.message, ...(known.fields === undefined ? {} : { errors: known.fields }), ...known.more };
    response.status(status).type('application/problem+json').send(JSON.stringify(problem));
  };

const toApiError = (error: unknown): ApiError => {
  if (error instanceof ApiError) return error;
  // Express, its body parser and its file server tell what a caller did wrong by `status`.
  const status = typeof error === 'object' && error !== null && 'status' in error ? Number(error.status) : 500;
  if (error instanceof URIError) return new ApiError('not-found', 'The path cannot be read.');
  if (status === 413) return new ApiError('too-large', 'The body is larger than this takes. Nothing was written.');
  if (status === 415) return new ApiError('not-json-type', 'The body must be plain UTF-8 JSON, not packed. Nothing was written.');
  if (isParseError(error)) return new ApiError('not-json', 'The body is not JSON. Nothing was written.');
  if (status >= 400 && status < 500) return new ApiError('bad-request', 'The request contradicts itself. Nothing was written.');
  if (failureOf(error)?.code === 'unreachable') return new ApiError('not-ready', 'InfluxDB does not answer, and this asks for readings of more than the last days, which are only there. Nothing is lost. Try again when it is back.');
  if (failureOf(error) !== null) return new ApiError('not-ready', 'The files of the shed cannot be read or written now. Try again; if it stays so, look at the room on the disk and at the log.');
  return new ApiError('internal', 'This is a fault of Brineward; what was accepted before is kept. The log says more.');
};

const isParseError = (error: unknown): boolean => typeof error === 'object' && error !== null && 'type' in error && error.type === 'entity.parse.failed';
