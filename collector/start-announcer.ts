import type { Outlet } from '#domain/announce/outlet.ts';
import type { Draft } from '#domain/journal/entry.ts';
import { toRfc3339 } from '#domain/units/time.ts';
import type { Clock } from './clock.ts';
import type { Config } from './config.ts';
import type { Book } from './journal/book.ts';
import { sealLine } from './journal/verify-seals.ts';
import { createAnnouncer, type Announcer } from './outlets/announcer.ts';
import { beatHeart } from './outlets/heartbeat.ts';
import { readSecrets } from './outlets/secrets.ts';
import type { Letter, SendFault } from './outlets/sender.ts';
import { sendWebhook } from './outlets/webhook.ts';
import type { Wire } from './sources/wire.ts';

export interface AnnouncingOptions {
  readonly config: Pick<Config, 'dataDirectory' | 'site' | 'siteName' | 'zone'>;
  readonly book: Book;
  readonly append: (drafts: readonly Draft[]) => void;
  readonly clock: Clock;
  readonly wire: () => Wire | null;
}

const noSecret = 'Its password or address is not in this data directory. Set it again.';

/** The announcer with real outlets; what is secret is read anew for each message, so that a change needs no restart. */
export const startAnnouncer = ({ config, book, append, clock, wire }: AnnouncingOptions): Announcer => {
  const send = async (outlet: Outlet, letter: Letter): Promise<SendFault> => {
    const secret = readSecrets(config.dataDirectory).get(outlet.id) ?? {};
    if (outlet.kind === 'mail') {
      if (outlet.server.user !== null && secret.password === undefined) return noSecret;
      // Only a shed that sends mail pays for the mail client.
      const { sendMail } = await import('./outlets/mail.ts');
      return sendMail(outlet.to, outlet.server, secret.password, letter);
    }
    if (secret.url === undefined || secret.key === undefined) return noSecret;
    return sendWebhook(secret.url, secret.key, letter, Date.now());
  };
  return createAnnouncer({
    zone: config.zone,
    site: { id: config.site, name: config.siteName },
    send,
    beat: async (outlet) => {
      const { url } = readSecrets(config.dataDirectory).get(outlet.id) ?? {};
      return url === undefined ? noSecret : beatHeart(url);
    },
    sayOnBus: ({ id, at }) => {
      wire()?.publish(`brineward/${config.site}/test`, JSON.stringify({ id, at: toRfc3339(at) }), false);
      return wire()?.status().status === 'ok' ? null : 'The broker is lost.';
    },
    sealLine: (sequence) => {
      const [entry] = book.read(sequence - 1, 1);
      return entry?.kind === 'day-sealed' ? sealLine(entry) : `entry ${sequence}`;
    },
    append,
    now: clock.now,
  });
};
