import type { Response } from 'express';
import { byUser } from '#domain/journal/entry.ts';
import type { Session } from '#contract';
import type { AccessStore, User } from '../access/access-store.ts';
import { clearCookie, cookieOf, setCookie, tokenOf } from '../access/session-cookie.ts';
import { ApiError } from '../errors.ts';
import type { ShedModel } from '../shed/shed-model.ts';
import type { Handlers } from './mount.ts';

/** Signing in and out, and making the first owner. */
export const accessRoutes = (access: AccessStore, model: ShedModel, demo: Session['demo']): Handlers<'session' | 'signIn' | 'signOut' | 'setUp'> => {
  const sessionOf = (user: User | null): Session => ({ user: user === null ? null : { name: user.name, role: user.role }, setUpNeeded: !access.hasUsers(), demo });
  const open = (user: User, response: Response): Session => {
    setCookie(response, access.openSession(user));
    return sessionOf(user);
  };
  return {
    session: ({ user }) => sessionOf(user),
    signIn: async ({ body, request, response }) => {
      const user = await access.check(body.name, body.password);
      if (user === null) throw new ApiError('wrong-password', 'Check both; capitals count in the password.');
      // Always a new session: one that came with the request may be known to somebody else.
      const before = cookieOf(request);
      if (before !== null) access.closeSession(before);
      return open(user, response);
    },
    signOut: ({ request, response }) => {
      const token = tokenOf(request);
      if (token !== null) access.closeSession(token);
      clearCookie(response);
      return null;
    },
    setUp: async ({ body, response }) => {
      if (access.hasUsers()) throw new ApiError('already-set-up', 'Sign in instead.');
      if (!access.useSetUpCode(body.code)) throw new ApiError('wrong-setup-code', 'The code stands in the terminal where Brineward was started.');
      const user: User = { name: body.name, role: 'owner' };
      if (!(await access.addUser(user.name, user.role, body.password))) throw new ApiError('already-set-up', 'Sign in instead.');
      model.write([{ who: byUser(user.name), kind: 'user-added', body: { name: user.name, role: user.role } }]);
      return open(user, response);
    },
  };
};
