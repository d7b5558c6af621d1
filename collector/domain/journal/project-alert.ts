import { transition } from '../rules/alert-state.ts';
import type { Alert } from '../rules/alert.ts';
import { fromRfc3339 } from '../units/time.ts';
import type { Entry, EntryOf } from './entry.ts';
import { withEntry, withoutEntry } from './map.ts';
import type { Shed } from './shed.ts';

const kinds = ['alert-raised', 'alert-acknowledged', 'alert-returned', 'alert-shelved', 'alert-unshelved', 'alert-action'] as const;
type AlertEntry = EntryOf<(typeof kinds)[number]>;
export const isAlertEntry = (entry: Entry): entry is AlertEntry => (kinds as readonly string[]).includes(entry.kind);

/** How alerts live: raised, acknowledged, returned. The state follows the table of IEC 62682; what is normal again is past. */
export const projectAlert = (shed: Shed, entry: AlertEntry): Shed => {
  const open = shed.openAlerts.get(entry.body.id);
  switch (entry.kind) {
    case 'alert-raised':
      return keepAlert(shed, open === undefined ? raised(entry) : raisedAgain(open, entry), entry.sequence);
    case 'alert-acknowledged':
      if (open === undefined) return shed;
      return keepAlert(shed, { ...open, state: transition(open.state, 'acknowledge', isOutside(open)), acknowledgedBy: entry.who, acknowledgedAt: fromRfc3339(entry.time) }, entry.sequence);
    case 'alert-returned':
      return open === undefined ? shed : keepAlert(shed, returned(open, entry), entry.sequence);
    case 'alert-shelved': {
      if (open === undefined) return shed;
      const shelf = { by: entry.who, until: fromRfc3339(entry.body.until), reason: entry.body.reason };
      return keepAlert(shed, { ...open, state: transition(open.state, 'shelve', isOutside(open)), shelf }, entry.sequence);
    }
    case 'alert-unshelved':
      return open === undefined ? shed : keepAlert(shed, { ...open, state: transition(open.state, 'unshelve', isOutside(open)), shelf: null }, entry.sequence);
    case 'alert-action': {
      const { id, text, disposition = null } = entry.body;
      const action = { at: fromRfc3339(entry.time), by: entry.who, text, disposition };
      return { ...shed, alertActions: withEntry(shed.alertActions, id, [...(shed.alertActions.get(id) ?? []), action]) };
    }
  }
};

const isOutside = (alert: Alert): boolean => alert.excursions.at(-1)?.to === null;

const raised = ({ body }: EntryOf<'alert-raised'>): Alert => ({
  id: body.id,
  rule: body.rule,
  drum: body.drum,
  lot: body.lot,
  quantity: body.quantity,
  priority: body.priority,
  state: transition('normal', 'condition-true', true),
  since: fromRfc3339(body.since),
  raisedAt: fromRfc3339(body.at),
  returnedAt: null,
  acknowledgedBy: null,
  acknowledgedAt: null,
  value: body.value,
  peak: body.value,
  limit: body.limit,
  text: body.text,
  advice: body.advice,
  shelf: null,
  excursions: [{ from: fromRfc3339(body.since), to: null, peak: body.value }],
});

/** Outside again before anyone took notice of the last time: the same alert, one excursion more. */
const raisedAgain = (alert: Alert, { body }: EntryOf<'alert-raised'>): Alert => ({
  ...alert,
  state: transition(alert.state, 'condition-true', true),
  returnedAt: null,
  value: body.value,
  text: body.text,
  advice: body.advice,
  excursions: isOutside(alert) ? alert.excursions : [...alert.excursions, { from: fromRfc3339(body.since), to: null, peak: body.value }],
});

const returned = (alert: Alert, { body }: EntryOf<'alert-returned'>): Alert => {
  const last = alert.excursions.at(-1);
  const peak = body.peak ?? last?.peak ?? null;
  const closed = last === undefined ? [] : [{ ...last, to: fromRfc3339(body.until), peak }];
  return {
    ...alert,
    state: transition(alert.state, 'condition-clear', false),
    returnedAt: fromRfc3339(body.at),
    peak: furthest(alert, peak),
    excursions: [...alert.excursions.slice(0, -1), ...closed],
  };
};

/** The worst value of all excursions of the alert, away from the limit. */
const furthest = (alert: Alert, peak: number | null): number | null => {
  if (peak === null || alert.peak === null) return peak ?? alert.peak;
  return alert.limit.side === 'low' ? Math.min(alert.peak, peak) : Math.max(alert.peak, peak);
};

export const keepAlert = (shed: Shed, alert: Alert, revision: number): Shed => {
  const drum = alert.drum === null ? undefined : shed.drums.get(alert.drum);
  const drums = drum === undefined ? shed.drums : withEntry(shed.drums, drum.id, { ...drum, revision });
  if (alert.state !== 'normal') return { ...shed, drums, openAlerts: withEntry(shed.openAlerts, alert.id, alert) };
  return { ...shed, drums, openAlerts: withoutEntry(shed.openAlerts, alert.id), pastAlerts: { alert, before: shed.pastAlerts } };
};
