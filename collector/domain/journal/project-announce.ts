import { saidKey, type Announced, type Said } from '../announce/announced.ts';
import { floodMs } from '../announce/flood.ts';
import { usualRoute } from '../announce/outlet.ts';
import { fromRfc3339 } from '../units/time.ts';
import type { Entry, EntryOf } from './entry.ts';
import { withEntry, withoutEntry } from './map.ts';
import type { Shed } from './shed.ts';

const kinds = ['outlet-set', 'route-set', 'outlet-removed', 'outlet-test-asked', 'announced'] as const;
type OutletEntry = EntryOf<(typeof kinds)[number]>;
export const isOutletEntry = (entry: Entry): entry is OutletEntry => (kinds as readonly string[]).includes(entry.kind);

const latestCount = 60;

/** Outlets as they are set, and what they have been told. */
export const projectAnnounce = (shed: Shed, entry: OutletEntry): Shed => {
  switch (entry.kind) {
    case 'outlet-set': {
      const { id } = entry.body;
      const { route } = shed.outlets.get(id) ?? { route: usualRoute };
      return { ...shed, outlets: withEntry(shed.outlets, id, { ...entry.body, route, setAt: fromRfc3339(entry.time), setBy: entry.who, sequence: entry.sequence }) };
    }
    case 'route-set': {
      const { outlet: id, ...route } = entry.body;
      const outlet = shed.outlets.get(id);
      return outlet === undefined ? shed : { ...shed, outlets: withEntry(shed.outlets, id, { ...outlet, route }) };
    }
    case 'outlet-removed':
      return { ...shed, outlets: withoutEntry(shed.outlets, entry.body.id), announced: forget(shed.announced, entry.body.id) };
    case 'outlet-test-asked':
      return { ...shed, announced: { ...shed.announced, testsAsked: withEntry(shed.announced.testsAsked, entry.body.outlet, entry.sequence) } };
    case 'announced':
      return { ...shed, announced: told(shed, entry) };
  }
};

/** One of the same name made later begins anew. What was told stays among the latest. */
const forget = (announced: Announced, id: string): Announced => ({
  ...announced,
  said: new Map([...announced.said].filter(([key]) => !key.startsWith(saidKey(id, '')))),
  recent: withoutEntry(announced.recent, id),
  sealsTo: withoutEntry(announced.sealsTo, id),
  testsAsked: withoutEntry(announced.testsAsked, id),
  lastDelivery: withoutEntry(announced.lastDelivery, id),
});

const told = (shed: Shed, { body, sequence }: EntryOf<'announced'>): Announced => {
  const { announced } = shed;
  const { outlet, what, alerts, result, sealsTo } = body;
  const latest = [{ sequence, body }, ...announced.latest].slice(0, latestCount);
  const lastDelivery = withEntry(announced.lastDelivery, outlet, body.delivery);
  if (what === 'test') return { ...announced, latest, lastDelivery, testsAsked: withoutEntry(announced.testsAsked, outlet) };
  // What failed is still to be told.
  if (result === 'failed') return { ...announced, latest, lastDelivery };
  const at = fromRfc3339(body.at);
  const said = new Map<string, Said>();
  // What is over needs no memory any more.
  for (const [key, each] of announced.said) if (shed.openAlerts.has(key.slice(key.indexOf(' ') + 1))) said.set(key, each);
  for (const { id, excursion } of alerts) if (shed.openAlerts.has(id)) said.set(saidKey(outlet, id), { excursion, at });
  const isNews = what === 'alerts' || what === 'digest';
  const recent = (announced.recent.get(outlet) ?? []).filter((each) => at - each.at < floodMs);
  return {
    ...announced,
    latest,
    lastDelivery,
    said,
    recent: isNews ? withEntry(announced.recent, outlet, [...recent, { at, alerts: alerts.length }]) : announced.recent,
    sealsTo: sealsTo === undefined ? announced.sealsTo : withEntry(announced.sealsTo, outlet, { entry: sealsTo, at }),
  };
};
