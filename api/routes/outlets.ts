import { randomBytes } from 'node:crypto';
import { readSecrets, writeSecret, type OutletStatus } from '#collector';
import { slugPattern } from '#domain/reading/reading.ts';
import type { Announced as AnnouncedShape, Outlet as OutletShape, SetOutlet } from '#contract';
import { byUser } from '#domain/journal/entry.ts';
import { busOutlet, type Outlet, type OutletSetting } from '#domain/announce/outlet.ts';
import type { Announcement } from '#domain/announce/announced.ts';
import { toRfc3339 } from '#domain/units/time.ts';
import { notFound, unfit } from '../errors.ts';
import type { ShedModel } from '../shed/shed-model.ts';
import type { Handlers } from './mount.ts';

type OutletRoutes = 'outlets' | 'setOutlet' | 'setOutletRoute' | 'removeOutlet' | 'testOutlet';

/** Where word of the shed goes. Secrets lie in a file of the data directory; the journal tells all the rest. */
export const outletRoutes = (model: ShedModel, directory: string, statusOf: (id: string) => OutletStatus | null): Handlers<OutletRoutes> => {
  const find = (id: string): Outlet => {
    const found = model.shed().outlets.get(id);
    if (found === undefined) throw notFound(`outlet ${id}`);
    return found;
  };
  const shown = (id: string): OutletShape => outletShape(find(id), readSecrets(directory).has(id), statusOf(id));

  return {
    outlets: () => {
      const { outlets, announced } = model.shed();
      const secrets = readSecrets(directory);
      return { outlets: [...outlets.values()].map((each) => outletShape(each, secrets.has(each.id), statusOf(each.id))), announced: announced.latest.map(announcedShape) };
    },
    setOutlet: ({ params: { id = '' }, body, user }) => {
      if (!slugPattern.test(id) || id === busOutlet) throw unfit('id', 'use lower-case letters, digits and dashes, at most 40, and another name than mqtt');
      const before = model.shed().outlets.get(id);
      if (before !== undefined && before.kind !== body.kind) throw unfit('kind', `is ${before.kind} already; take this one away and make another`);
      const known = before === undefined ? undefined : readSecrets(directory).get(id);
      let key: string | null = null;
      if (body.kind === 'mail') {
        const movesTo = before?.kind === 'mail' && before.server.host !== body.server.host;
        // A password must not go to a machine it was not given for.
        if (body.password === undefined && body.server.user !== null && (known?.password === undefined || movesTo)) throw unfit('password', 'is needed for this server');
        if (body.password !== undefined) writeSecret(directory, id, { password: body.password });
      } else {
        const url = body.url ?? known?.url;
        if (url === undefined) throw unfit('url', 'is needed');
        if (body.kind === 'webhook' && known?.key === undefined) key = `whsec_${randomBytes(32).toString('base64')}`;
        writeSecret(directory, id, { ...known, url, ...(key === null ? {} : { key }) });
      }
      model.write([{ who: byUser(user.name), kind: 'outlet-set', body: settingOf(id, body, before) }]);
      return { outlet: shown(id), key };
    },
    setOutletRoute: ({ params: { id = '' }, body, user }) => {
      find(id);
      model.write([{ who: byUser(user.name), kind: 'route-set', body: { outlet: id, ...body, priorities: [...new Set(body.priorities)] } }]);
      return shown(id);
    },
    removeOutlet: ({ params: { id = '' }, user }) => {
      find(id);
      model.write([{ who: byUser(user.name), kind: 'outlet-removed', body: { id } }]);
      writeSecret(directory, id, null);
      return null;
    },
    testOutlet: ({ params: { id = '' }, user }) => {
      if (id !== busOutlet) find(id);
      model.write([{ who: byUser(user.name), kind: 'outlet-test-asked', body: { outlet: id } }]);
      return { entry: model.shed().sequence };
    },
  };
};

/** The setting as the journal tells it: of a secret address only the host. */
const settingOf = (id: string, body: SetOutlet, before: Outlet | undefined): OutletSetting => {
  const { name } = body;
  if (body.kind === 'mail') return { id, name, kind: body.kind, to: body.to, server: body.server };
  const to = body.url === undefined ? (before?.to ?? '') : new URL(body.url).host;
  return body.kind === 'webhook' ? { id, name, kind: body.kind, to } : { id, name, kind: body.kind, to, everyMinutes: body.everyMinutes };
};

const outletShape = (outlet: Outlet, hasSecret: boolean, status: OutletStatus | null): OutletShape => {
  const { id, kind, name, to, route } = outlet;
  return {
    id,
    kind,
    name,
    to,
    server: outlet.kind === 'mail' ? outlet.server : null,
    everyMinutes: outlet.kind === 'heartbeat' ? outlet.everyMinutes : null,
    hasSecret,
    route: { ...route, priorities: [...route.priorities] },
    status: status?.status ?? 'not-tried',
    failures: status?.failures ?? 0,
    detail: status?.detail ?? null,
    lastSentAt: timeText(status?.lastSentAt ?? null),
    nextTryAt: timeText(status?.nextTryAt ?? null),
  };
};

const timeText = (at: number | null): string | null => (at === null ? null : toRfc3339(at));

const announcedShape = ({ sequence, body: { outlet, what, to, alerts, at, lateS, attempts, result, detail } }: Announcement): AnnouncedShape => ({
  entry: sequence, outlet, what, to, alerts: alerts.map(({ id }) => id), at, lateS, attempts, result, detail,
});
