import type { CookieOptions, Request, Response } from 'express';
import { byUser } from '#domain/journal/entry.ts';
import type { Session } from '#contract';
import type { AccessStore, User } from '../access/access-store.ts';
import { ApiError } from '../errors.ts';
import type { ShedModel } from '../shed/shed-model.ts';
import type { Handlers, UserOf } from './mount.ts';

/** Signing in and out, and making the first owner. */
const cookieName = 'brineward_session';

/** Whoever brings a session cookie or a bearer token; null for a stranger. */
export const createUserOf =
  (access: AccessStore): UserOf =>
  (request) => {
    const token = tokenOf(request);
    return token === null ? null : access.userOf(token);
  };

const tokenOf = (request: Request): string | null => {
  const bearer = /^Bearer ([\w-]{20,200})$/.exec(request.headers.authorization ?? '')?.[1];
  if (bearer !== undefined) return bearer;
  const cookie = (request.headers.cookie ?? '').split(/; */).find((part) => part.startsWith(`${cookieName}=`));
  return cookie === undefined ? null : cookie.slice(cookieName.length + 1);
};

export const accessRoutes = (access: AccessStore, model: ShedModel, demo: Session['demo']): Handlers<'session' | 'signIn' | 'signOut' | 'setUp'> => {
  const sessionOf = (user: User | null): Session => ({ user, setUpNeeded: !access.hasUsers(), demo });
  const open = (user: User, response: Response): Session => {
    const { token, maxAgeMs } = access.openSession(user);
    response.cookie(cookieName, token, { ...cookieOptions, maxAge: maxAgeMs });
    return sessionOf(user);
  };
  return {
    session: ({ user }) => sessionOf(user),
    signIn: async ({ body, response }) => {
      const user = await access.check(body.name, body.password);
      if (user === null) throw new ApiError('wrong-password', 'Check both; capitals count in the password.');
      return open(user, response);
    },
    signOut: ({ request, response }) => {
      const token = tokenOf(request);
      if (token !== null) access.closeSession(token);
      response.clearCookie(cookieName, cookieOptions);
      return null;
    },
    setUp: async ({ body, response }) => {
      if (access.hasUsers()) throw new ApiError('already-set-up', 'Sign in instead.');
      if (!access.checkSetUpCode(body.code)) throw new ApiError('wrong-setup-code', 'The code stands in the terminal where Brineward was started.');
      const user: User = { name: body.name, role: 'owner' };
      if (!(await access.addUser(user.name, user.role, body.password))) throw new ApiError('already-set-up', 'Sign in instead.');
      model.write([{ who: byUser(user.name), kind: 'user-added', body: { name: user.name, role: user.role } }]);
      return open(user, response);
    },
  };
};

/** Not `secure`: on one small computer in a shed there is no certificate; behind a TLS proxy the proxy may add it. */
const cookieOptions: CookieOptions = { httpOnly: true, sameSite: 'strict', path: '/' };
