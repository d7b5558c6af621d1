import type { Health } from '#contract';
import type { Forecasts } from '../shed/forecasts.ts';
import type { PresenceOf } from '../shed/probe-view.ts';
import { keyShape } from '../shed/key.ts';
import type { ShedModel } from '../shed/shed-model.ts';
import { wallView } from '../shed/wall-view.ts';
import { toRfc3339 } from '#domain/units/time.ts';
import type { Handlers } from './mount.ts';

/** What stays the same while the program runs. */
export interface SiteFacts {
  readonly site: string;
  readonly name: string;
  readonly zone: string;
  readonly version: string;
  readonly demo: boolean;
  readonly mqtt: { readonly host: string; readonly port: number; readonly external: boolean };
}

interface SiteDeps {
  readonly facts: SiteFacts;
  readonly presenceOf: PresenceOf;
  healthNow(): Health;
}

/** The site as a whole: health, the wall, the journal. */
export const siteRoutes = (model: ShedModel, forecasts: Forecasts, { facts, presenceOf, healthNow }: SiteDeps): Handlers<'health' | 'site' | 'wall' | 'journal'> => ({
  health: ({ user }) => {
    const health = healthNow();
    // A stranger learns only whether it runs, and so does an inspector.
    return user === null || user.role === 'inspector' ? { status: health.status, version: health.version } : health;
  },
  site: () => ({ ...facts, mqtt: { ...facts.mqtt }, now: toRfc3339(model.clock.now()), key: keyShape(model.shed()) }),
  wall: () => wallView(model, forecasts, presenceOf),
  journal: ({ query }) => ({ entries: model.book.read(query.after, query.limit).map((entry) => ({ ...entry, body: { ...entry.body } })) }),
});
