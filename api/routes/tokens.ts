import { calendarPath, type TokenPurpose } from '#contract';
import { byUser } from '#domain/journal/entry.ts';
import { toRfc3339 } from '#domain/units/time.ts';
import type { AccessStore } from '../access/access-store.ts';
import type { FeedToken } from '../access/feed-tokens.ts';
import { ApiError, notFound } from '../errors.ts';
import type { ShedModel } from '../shed/shed-model.ts';
import type { Handlers } from './mount.ts';

/** Keys for programs that cannot sign in. People see and revoke their own, the owner everybody's; the journal tells of each, never its secret. */
export const tokenRoutes = ({ tokens }: AccessStore, model: ShedModel): Handlers<'tokens' | 'makeToken' | 'revokeToken'> => ({
  tokens: ({ user }) => ({ tokens: tokens.all().filter((token) => user.role === 'owner' || token.user === user.name).map(tokenShape) }),
  makeToken: ({ body, user }) => {
    const made = tokens.make(user.name, body.purpose);
    if (made === null) throw new ApiError('wrong-state', 'There are as many tokens as anyone needs. Revoke one first.');
    const { token, secret } = made;
    try {
      model.write([{ who: byUser(user.name), kind: 'token-made', body: { id: token.id, user: token.user, purpose: token.purpose } }]);
    } catch (error) {
      // What the journal does not know of must not open anything.
      tokens.revoke(token.id);
      throw error;
    }
    return { ...tokenShape(token), token: secret, path: pathOf[token.purpose](secret) };
  },
  revokeToken: ({ params, user }) => {
    const token = tokens.all().find(({ id, user: whose }) => id === params.id && (user.role === 'owner' || whose === user.name));
    if (token === undefined) throw notFound(`token ${params.id ?? ''}`);
    tokens.revoke(token.id);
    model.write([{ who: byUser(user.name), kind: 'token-revoked', body: { id: token.id, user: token.user } }]);
    return null;
  },
});

const pathOf: Readonly<Record<TokenPurpose, (secret: string) => string>> = { calendar: (secret) => `/api${calendarPath}?token=${secret}` };

const tokenShape = ({ madeAt, ...token }: FeedToken): Omit<FeedToken, 'madeAt'> & { madeAt: string } => ({ ...token, madeAt: toRfc3339(madeAt) });
