import type { CookieOptions, Request, RequestHandler, Response } from 'express';
import type { AccessStore, NewSession, User } from './access-store.ts';

/** How a session travels: in a cookie the page cannot read and no foreign site can send, or as a bearer token. */
const cookieName = 'brineward_session';

/** Not `secure`: on one small computer in a shed there is no certificate; behind a TLS proxy the proxy may add it. */
const cookieOptions: CookieOptions = { httpOnly: true, sameSite: 'strict', path: '/' };

export const cookieOf = (request: Request): string | null => {
  const cookie = (request.headers.cookie ?? '').split(/; */).find((part) => part.startsWith(`${cookieName}=`));
  return cookie === undefined ? null : cookie.slice(cookieName.length + 1);
};

export const tokenOf = (request: Request): string | null => /^Bearer ([\w-]{20,200})$/.exec(request.headers.authorization ?? '')?.[1] ?? cookieOf(request);

export const setCookie = (response: Response, { token, maxAgeMs }: NewSession): void => void response.cookie(cookieName, token, { ...cookieOptions, maxAge: maxAgeMs });

export const clearCookie = (response: Response): void => void response.clearCookie(cookieName, cookieOptions);

/** Whoever brings a session; null for a stranger. */
export type UserOf = (request: Request) => User | null;

export const createUserOf =
  (access: AccessStore): UserOf =>
  (request) => {
    const token = tokenOf(request);
    return token === null ? null : access.userOf(token);
  };

/** A wall that is looked at every day must not ask for its password in the middle of a cure. */
export const renewSessions =
  (access: AccessStore): RequestHandler =>
  (request, response, next) => {
    const token = cookieOf(request);
    const maxAgeMs = token === null ? null : access.renewSession(token);
    if (token !== null && maxAgeMs !== null) setCookie(response, { token, maxAgeMs });
    next();
  };
