import { createTransport } from 'nodemailer';
import type { MailServer } from '#domain/announce/outlet.ts';
import { sendTimeoutMs, type Letter, type SendFault } from './sender.ts';

/**
 * Mail by SMTP (RFC 5321). With `starttls` a server that cannot be spoken to in private is refused: a password never goes out in the open.
 * The Message-ID is made from the message, so that a copy sent after a crash is seen as one by mail programs.
 */
export const sendMail = async (to: string, server: MailServer, password: string | undefined, letter: Letter): Promise<SendFault> => {
  const { host, port, security, user, from } = server;
  const transport = createTransport({
    host,
    port,
    secure: security === 'tls',
    requireTLS: security === 'starttls',
    ignoreTLS: security === 'none',
    ...(user === null ? {} : { auth: { user, pass: password ?? '' } }),
    connectionTimeout: sendTimeoutMs,
    greetingTimeout: sendTimeoutMs,
    socketTimeout: sendTimeoutMs,
    // Nothing but the text given is ever read or fetched.
    disableFileAccess: true,
    disableUrlAccess: true,
  });
  try {
    const { rejected } = await transport.sendMail({
      from,
      to,
      subject: letter.subject,
      text: letter.text,
      date: new Date(letter.at),
      messageId: `<${letter.id}@${letter.site}.brineward.invalid>`,
      headers: { 'Auto-Submitted': 'auto-generated', ...(letter.alerts.some(({ priority }) => priority === 'high') ? { Importance: 'high' } : {}) },
    });
    return rejected.length === 0 ? null : `The mail server would not take it for ${to}.`;
  } catch (error) {
    return faultOf(error, host, port);
  } finally {
    transport.close();
  }
};

const faultOf = (error: unknown, host: string, port: number): string => {
  const { code, response } = error as { readonly code?: string; readonly response?: string };
  const where = `${host}:${port}`;
  switch (code) {
    case 'EAUTH':
      return `The mail server ${where} does not take the name or the password.`;
    case 'ETLS':
      return `The mail server ${where} cannot be spoken to in private. Choose another kind of connection.`;
    case 'ECONNECTION':
    case 'ECONNREFUSED':
    case 'ESOCKET':
    case 'ETIMEDOUT':
    case 'EDNS':
    case 'ENOTFOUND':
      return `The mail server ${where} cannot be reached (${code}).`;
    default:
      return `The mail server ${where} refused it${response === undefined ? '' : ` (${response.slice(0, 160)})`}.`;
  }
};
