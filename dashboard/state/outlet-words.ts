import type { Announced, Outlet, OutletRoute } from '#contract';
import { age } from '../format/age.ts';

const kinds: Readonly<Record<Outlet['kind'], string>> = { mail: 'Mail', webhook: 'Webhook', heartbeat: 'Heartbeat' };
export const kindWords = (kind: Outlet['kind']): string => kinds[kind];

/** What goes to an outlet and when, in a sentence or two. */
export const routeWords = ({ priorities, quiet, remindMinutes, seals }: OutletRoute, kind: Outlet['kind']): string => {
  const what = priorities.length === 3 ? 'All alerts' : priorities.length === 0 ? 'No alerts' : `Alerts of ${priorities.join(' and ')} priority`;
  const hours = quiet === null ? '' : ` From ${quiet.from} to ${quiet.to} only high ones; the others when the quiet hours end.`;
  const again = remindMinutes === null || priorities.length === 0 ? '' : ` Again every ${age(remindMinutes * 60_000)} until somebody has seen them.`;
  return `${what}.${hours}${again}${kind === 'mail' && seals ? ' The seal of each day.' : ''}`;
};

export const statusWords = (outlet: Outlet, now: number): string => {
  const last = outlet.lastSentAt === null ? null : Date.parse(outlet.lastSentAt);
  switch (outlet.status) {
    case 'failing': {
      const next = outlet.nextTryAt === null ? null : Math.max(0, Date.parse(outlet.nextTryAt) - now);
      return `failing: ${outlet.failures === 1 ? 'once' : `${String(outlet.failures)} times in a row`}${next === null ? '' : `, tried again in ${age(next)} if something is due`}`;
    }
    case 'ok':
      return last === null ? 'works' : `works, last used ${age(now - last)} ago`;
    case 'not-tried':
      return 'not used since the collector started';
  }
};

const whats: Readonly<Record<Announced['what'], string>> = { alerts: 'alerts', digest: 'many alerts in one', reminder: 'reminder', seals: 'seals of days', test: 'test', heartbeat: 'sign of life' };
const results: Readonly<Record<Announced['result'], string>> = { sent: 'taken', failed: 'failed', 'given-up': 'given up' };

export const announcedWords = ({ what, alerts, result, lateS, attempts, detail }: Announced): string =>
  `${whats[what]}${alerts.length > 1 ? ` (${String(alerts.length)})` : ''}, ${results[result]}${result === 'sent' && attempts > 1 ? ` at the ${String(attempts)}. try` : ''}${lateS > 0 ? `, ${age(lateS * 1_000)} late` : ''}${detail === null ? '' : `: ${detail}`}`;
