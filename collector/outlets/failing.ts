import { byCollector, type Draft } from '#domain/journal/entry.ts';
import type { Shed } from '#domain/journal/shed.ts';
import { failingPrefix } from '#domain/announce/plan.ts';
import type { Outlet } from '#domain/announce/outlet.ts';
import type { Alert } from '#domain/rules/alert.ts';
import { limitsOf } from '#domain/rules/limits-in-force.ts';
import { toRfc3339, type EpochMs } from '#domain/units/time.ts';

/** An outlet that fails is itself an alert: told by the others, and on the screens. */
export const outletFailing = 'outlet-failing';

const standing = (shed: Shed, prefix: string): readonly Alert[] => [...shed.openAlerts.values()].filter(({ id, excursions }) => id.startsWith(prefix) && excursions.at(-1)?.to === null);

export const raiseFailing = (shed: Shed, { id, name }: Outlet, failures: number, since: EpochMs, now: EpochMs): readonly Draft[] => {
  const limit = limitsOf(shed.limitChanges, null).find((each) => each.id === outletFailing);
  if (limit === undefined || limit.high === null || failures < limit.high || standing(shed, failingPrefix(id)).length > 0) return [];
  const at = toRfc3339(now);
  return [
    {
      who: byCollector,
      kind: 'alert-raised',
      body: {
        id: `${failingPrefix(id)}${at.toLowerCase().replaceAll(/[-:.]/g, '')}`,
        rule: outletFailing,
        drum: null,
        lot: null,
        quantity: 'outlet',
        priority: limit.priority,
        since: toRfc3339(since),
        at,
        value: failures,
        limit: { value: limit.high, unit: limit.unit, source: limit.source, side: 'high' },
        text: `${name} cannot be told anything: it has failed ${failures} times in a row.`,
        advice: 'Look at the screen of alerts yourself until it works. Check its address and password in the settings and send a test; it is tried again by itself.',
      },
    },
  ];
};

/** It works again, or is no more. */
export const endFailing = (shed: Shed, outlet: string, now: EpochMs): readonly Draft[] =>
  standing(shed, failingPrefix(outlet)).map(({ id }): Draft => ({ who: byCollector, kind: 'alert-returned', body: { id, until: toRfc3339(now), at: toRfc3339(now), peak: null } }));
