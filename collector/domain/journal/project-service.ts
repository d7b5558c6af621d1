import { transition } from '../rules/alert-state.ts';
import { fromRfc3339 } from '../units/time.ts';
import type { Entry, EntryOf } from './entry.ts';
import { withEntry, withoutEntry } from './map.ts';
import { keepAlert } from './project-alert.ts';
import { outOfServiceKey, type Shed } from './shed.ts';

type ServiceEntry = EntryOf<'limit-out-of-service' | 'limit-in-service'>;

export const isServiceEntry = (entry: Entry): entry is ServiceEntry => entry.kind === 'limit-out-of-service' || entry.kind === 'limit-in-service';

/** Limits taken out of service and put back, with the alerts that stand for them. */
export const projectService = (shed: Shed, entry: ServiceEntry): Shed => {
  const { drum, limit } = entry.body;
  const key = outOfServiceKey(drum, limit);
  const { outOfService } = shed.limitChanges;
  const next = entry.kind === 'limit-in-service' ? withoutEntry(outOfService, key) : withEntry(outOfService, key, { ...entry.body, by: entry.who, since: fromRfc3339(entry.time) });
  const event = entry.kind === 'limit-in-service' ? 'return-to-service' : 'remove-from-service';
  const alerts = [...shed.openAlerts.values()].filter((alert) => alert.drum === drum && alert.rule === limit);
  return alerts.reduce((before, alert) => keepAlert(before, { ...alert, shelf: null, state: transition(alert.state, event, alert.excursions.at(-1)?.to === null) }, entry.sequence), {
    ...shed,
    limitChanges: { ...shed.limitChanges, outOfService: next },
  });
};
