import type { Limit } from '#contract';
import { byUser } from '#domain/journal/entry.ts';
import type { LimitChange } from '#domain/rules/limit.ts';
import { limitsOf } from '#domain/rules/limits-in-force.ts';
import { ApiError, notFound } from '../errors.ts';
import type { ShedModel } from '../shed/shed-model.ts';
import type { Handlers } from './mount.ts';

/** Limits with their sources: for the site, and where a drum has its own. */
export const limitRoutes = (model: ShedModel): Handlers<'limits' | 'setLimit' | 'setDrumLimit'> => {
  const set = (id: string, drum: string | null, given: LimitChange, user: string): Limit => {
    const before = limitsOf(model.shed().limitChanges, drum).find((limit) => limit.id === id);
    if (before === undefined) throw notFound(`limit ${id}`);
    const change = Object.fromEntries(Object.entries(given).filter(([, value]) => value !== undefined)) as LimitChange;
    const moved = (change.low !== undefined && change.low !== before.low) || (change.high !== undefined && change.high !== before.high);
    const after = { ...before, ...change, ...(moved && change.source === undefined ? { source: `set by ${user}` } : {}) };
    if (after.low !== null && after.high !== null && after.low >= after.high) throw new ApiError('does-not-fit', 'low: must be below high. Nothing was written.', [{ path: 'low', message: 'must be below high' }]);
    model.write([{ who: byUser(user), kind: 'limit-set', body: { limit: id, drum, change: { ...change, source: after.source } } }]);
    return after;
  };
  return {
    limits: () => {
      const { limitChanges } = model.shed();
      const site = limitsOf(limitChanges, null).map((limit) => ({ ...limit, drum: null }));
      const own = [...limitChanges.drums].flatMap(([drum, changes]) => limitsOf(limitChanges, drum).filter(({ id }) => changes.has(id)).map((limit) => ({ ...limit, drum })));
      return { limits: [...site, ...own] };
    },
    setLimit: ({ params, body, user }) => set(params.id ?? '', null, body as LimitChange, user.name),
    setDrumLimit: ({ params, body, user }) => {
      const drum = params.drum ?? '';
      if (!model.shed().drums.has(drum)) throw notFound(`drum ${drum}`);
      return set(params.id ?? '', drum, body as LimitChange, user.name);
    },
  };
};
