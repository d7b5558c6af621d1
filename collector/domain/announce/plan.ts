import type { Shed } from '../journal/shed.ts';
import type { Alert } from '../rules/alert.ts';
import { hourMs, minuteMs, type EpochMs } from '../units/time.ts';
import { saidKey, type AnnouncementKind } from './announced.ts';
import { floodMs, floodVerdict } from './flood.ts';
import { isQuiet } from './quiet-hours.ts';
import type { Outlet } from './outlet.ts';

/** A message that is due now. */
export interface Due {
  readonly outlet: Outlet;
  readonly what: Exclude<AnnouncementKind, 'heartbeat'>;
  readonly alerts: readonly Alert[];
  /** Entries of the seals to tell, oldest first. */
  readonly seals: readonly number[];
  /** Since when it could have been told. */
  readonly dueAt: EpochMs;
}

export const failingPrefix = (outlet: string): string => `outlet-failing-${outlet}-`;

/** What each outlet is to be told now: at most one message each. What the journal says was told is not told again. */
export const dueAnnouncements = (shed: Shed, now: EpochMs, zone: string): Due[] =>
  [...shed.outlets.values()].flatMap((outlet) => {
    if (shed.announced.testsAsked.has(outlet.id)) return [{ outlet, what: 'test' as const, alerts: [], seals: [], dueAt: now }];
    const due = outlet.kind === 'heartbeat' ? null : (dueAlerts(shed, outlet, now, zone) ?? dueReminders(shed, outlet, now, zone) ?? dueSeals(shed, outlet, now));
    return due === null ? [] : [due];
  });

/** Whom an alert concerns: it is not yet seen, its priority goes here, and the hour is not quiet. Quiet hours never mute high. */
const concerns = (alert: Alert, { id, route }: Outlet, now: EpochMs, zone: string): boolean =>
  (alert.state === 'unacknowledged' || alert.state === 'returned') &&
  alert.priority !== 'note' &&
  route.priorities.includes(alert.priority) &&
  (alert.priority === 'high' || !isQuiet(route.quiet, now, zone)) &&
  // That an outlet fails cannot be told by it.
  !alert.id.startsWith(failingPrefix(id));

const dueAlerts = (shed: Shed, outlet: Outlet, now: EpochMs, zone: string): Due | null => {
  const pending = [...shed.openAlerts.values()].filter((alert) => {
    if (!concerns(alert, outlet, now, zone)) return false;
    const said = shed.announced.said.get(saidKey(outlet.id, alert.id));
    // One that comes and goes is told again for each time outside, but not every minute.
    return said === undefined || (said.excursion < alert.excursions.length && now - said.at >= floodMs);
  });
  if (pending.length === 0) return null;
  const anyHigh = pending.some(({ priority }) => priority === 'high');
  const verdict = floodVerdict({ recent: shed.announced.recent.get(outlet.id) ?? [], pending: pending.length, anyHigh, now });
  if (verdict === 'wait') return null;
  const dueAt = Math.min(...pending.map(knownAt));
  return { outlet, what: verdict === 'digest' ? 'digest' : 'alerts', alerts: pending, seals: [], dueAt };
};

/** When the last time outside was announced by the rules: with the alert, or later where it went out again. */
const knownAt = (alert: Alert): EpochMs => (alert.excursions.length > 1 ? Math.max(alert.raisedAt, alert.excursions.at(-1)?.from ?? alert.raisedAt) : alert.raisedAt);

const dueReminders = (shed: Shed, outlet: Outlet, now: EpochMs, zone: string): Due | null => {
  const { remindMinutes } = outlet.route;
  if (remindMinutes === null) return null;
  const alerts = [...shed.openAlerts.values()].filter((alert) => {
    const said = shed.announced.said.get(saidKey(outlet.id, alert.id));
    return said !== undefined && alert.state === 'unacknowledged' && now - said.at >= remindMinutes * minuteMs && concerns(alert, outlet, now, zone);
  });
  return alerts.length === 0 ? null : { outlet, what: 'reminder', alerts, seals: [], dueAt: now };
};

/** A mail a day, however many days are sealed at once after a long pause. */
const sealsEveryMs = 20 * hourMs;

const dueSeals = (shed: Shed, outlet: Outlet, now: EpochMs): Due | null => {
  if (outlet.kind !== 'mail' || !outlet.route.seals) return null;
  const last = shed.announced.sealsTo.get(outlet.id);
  if (last !== undefined && now - last.at < sealsEveryMs) return null;
  const after = Math.max(outlet.sequence, last?.entry ?? 0);
  const seals = shed.seals.days.flatMap(({ entries }) => entries).filter((entry) => entry > after).toSorted((one, other) => one - other);
  return seals.length === 0 ? null : { outlet, what: 'seals', alerts: [], seals, dueAt: now };
};
