import type { AddressInfo } from 'node:net';
import { SMTPServer, type SMTPServerOptions } from 'smtp-server';
import { afterEach, describe, expect, it } from 'vitest';
import type { MailServer } from '#domain/announce/outlet.ts';
import type { Letter } from '../../../collector/outlets/sender.ts';
import { sendMail } from '../../../collector/outlets/mail.ts';

/** Mail against a real SMTP server. Headers by RFC 5322 (Message-ID, Date) and RFC 3834 (Auto-Submitted). */
interface Post {
  readonly port: number;
  readonly mails: { readonly from: string; readonly to: readonly string[]; readonly text: string }[];
  readonly logins: string[];
}

const servers: SMTPServer[] = [];
afterEach(async () => {
  await Promise.all(servers.splice(0).map((server) => new Promise<void>((resolve) => void server.close(resolve))));
});

const openPost = async (options: SMTPServerOptions = {}): Promise<Post> => {
  const post: Post = { port: 0, mails: [], logins: [] };
  const server = new SMTPServer({
    disabledCommands: ['STARTTLS'],
    allowInsecureAuth: true,
    authOptional: true,
    logger: false,
    onAuth: ({ username, password }, _session, callback) => {
      post.logins.push(username ?? '');
      if (password === 'right') callback(null, { user: username });
      else callback(new Error('Invalid username or password'));
    },
    onData: (stream, { envelope }, callback) => {
      const chunks: Buffer[] = [];
      stream.on('data', (chunk: Buffer) => chunks.push(chunk));
      stream.on('end', () => {
        post.mails.push({ from: envelope.mailFrom === false ? '' : envelope.mailFrom.address, to: envelope.rcptTo.map(({ address }) => address), text: Buffer.concat(chunks).toString('utf8') });
        callback();
      });
    },
    ...options,
  });
  servers.push(server);
  // A client that gives up is no fault of the test.
  server.on('error', () => undefined);
  await new Promise<void>((resolve) => void server.listen(0, '127.0.0.1', () => resolve()));
  return Object.assign(post, { port: (server.server.address() as AddressInfo).port });
};

const serverAt = (port: number, more: Partial<MailServer> = {}): MailServer => ({ host: '127.0.0.1', port, security: 'none', user: null, from: 'shed@example.org', ...more });

const letter: Letter = { id: 'abc123', what: 'alerts', site: 'home', at: Date.UTC(2026, 9, 3, 12), lateMs: 0, alerts: [], sealLines: [], subject: 'Home: Barrel 1 is too warm (31 °C).', text: 'Do now: cool it.\nLocal rules decide.\n' };

describe('mail', { timeout: 30_000 }, () => {
  it('reaches the person with subject, text, its own time and a Message-ID that is the same for a copy', async () => {
    const post = await openPost();
    expect(await sendMail('anna@example.org', serverAt(post.port), undefined, letter)).toBeNull();
    expect(await sendMail('anna@example.org', serverAt(post.port), undefined, letter)).toBeNull();
    expect(post.mails.map(({ from, to }) => ({ from, to }))).toEqual([{ from: 'shed@example.org', to: ['anna@example.org'] }, { from: 'shed@example.org', to: ['anna@example.org'] }]);
    const [mail = '', copy = ''] = post.mails.map(({ text }) => text);
    expect(mail).toContain('Date: Sat, 03 Oct 2026 12:00:00 +0000');
    expect(mail).toContain('Auto-Submitted: auto-generated');
    expect(mail).toContain('Do now: cool it.');
    const idOf = (text: string): string | undefined => /^Message-ID: (.*)$/m.exec(text)?.[1];
    expect(idOf(mail)).toMatch(/^<abc123@/);
    expect(idOf(copy)).toBe(idOf(mail));
    expect(post.logins).toEqual([]);
  });

  it('signs in with name and password, and says so when they are wrong, without telling the password', async () => {
    const post = await openPost();
    const server = serverAt(post.port, { user: 'shed' });
    expect(await sendMail('anna@example.org', server, 'right', letter)).toBeNull();
    expect(await sendMail('anna@example.org', server, 'wrong', letter)).toBe(`The mail server 127.0.0.1:${post.port} does not take the name or the password.`);
    expect(post.mails).toHaveLength(1);
    expect(post.logins).toEqual(['shed', 'shed']);
  });

  it('sends nothing in the open where a private line is asked for', async () => {
    const post = await openPost();
    expect(await sendMail('anna@example.org', serverAt(post.port, { security: 'starttls', user: 'shed' }), 'right', letter)).toMatch(/cannot be spoken to in private|refused it/);
    expect(post.mails).toEqual([]);
    expect(post.logins).toEqual([]);
  });

  it('says that a server refuses, and that none is there', async () => {
    const post = await openPost({ onRcptTo: (_address, _session, callback) => callback(Object.assign(new Error('No such person here'), { responseCode: 550 })) });
    expect(await sendMail('anna@example.org', serverAt(post.port), undefined, letter)).toMatch(/refused it \(550 .*No such person here/);
    const { port } = post;
    await new Promise<void>((resolve) => void servers.splice(0)[0]?.close(resolve));
    expect(await sendMail('anna@example.org', serverAt(port), undefined, letter)).toMatch(/cannot be reached/);
  });
});
