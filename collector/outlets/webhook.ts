import { createHmac } from 'node:crypto';
import { toRfc3339 } from '#domain/units/time.ts';
import { requestUrl } from './request-url.ts';
import type { Letter, SendFault } from './sender.ts';

/**
 * A webhook, signed as Standard Webhooks 1.0 has it: HMAC-SHA-256 over `id.timestamp.body` with the key behind `whsec_`, in base64, so that
 * the other side can tell that it came from this shed, unchanged and lately, and can drop a copy by its id.
 */
export const webhookSignature = (key: string, id: string, timestampS: number, body: string): string =>
  `v1,${createHmac('sha256', Buffer.from(key.replace(/^whsec_/, ''), 'base64')).update(`${id}.${timestampS}.${body}`).digest('base64')}`;

export const webhookBody = ({ what, site, at, lateMs, subject, text, alerts, sealLines }: Letter): string =>
  JSON.stringify({
    type: `brineward.${what}`,
    timestamp: toRfc3339(at),
    data: {
      site,
      subject,
      text,
      lateS: Math.round(lateMs / 1_000),
      alerts: alerts.map(({ id, rule, drum, lot, quantity, priority, state, since, raisedAt, value, peak, limit, text: wrong, advice }) => ({
        id, rule, drum, lot, quantity, priority, state, since: toRfc3339(since), raisedAt: toRfc3339(raisedAt), value, peak, limit, text: wrong, advice,
      })),
      seals: sealLines,
    },
  });

/** `sentAt`: the machine's clock, which the other side compares with its own. */
export const sendWebhook = async (url: string, key: string, letter: Letter, sentAt: number): Promise<SendFault> => {
  const body = webhookBody(letter);
  const timestampS = Math.floor(sentAt / 1_000);
  return requestUrl(url, {
    method: 'POST',
    headers: { 'content-type': 'application/json', 'user-agent': 'brineward', 'webhook-id': letter.id, 'webhook-timestamp': String(timestampS), 'webhook-signature': webhookSignature(key, letter.id, timestampS, body) },
    body,
  });
};
