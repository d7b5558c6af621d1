import type { Limit } from '#contract';
import { byUser } from '#domain/journal/entry.ts';
import type { Slug } from '#domain/reading/reading.ts';
import type { LimitChange } from '#domain/rules/limit.ts';
import { limitsOf } from '#domain/rules/limits-in-force.ts';
import { notFound, unfit } from '../errors.ts';
import type { ShedModel } from '../shed/shed-model.ts';
import type { Handlers } from './mount.ts';

/** Limits with their sources: for the site, and where a drum has its own. */
export const limitRoutes = (model: ShedModel): Handlers<'limits' | 'setLimit' | 'setDrumLimit'> => {
  const limitOf = (id: string, drum: Slug | null): Limit => {
    const found = limitsOf(model.shed().limitChanges, drum).find((limit) => limit.id === id);
    if (found === undefined) throw notFound(`limit ${id}`);
    return found;
  };
  const ownOf = (id: string, drum: Slug | null): LimitChange => (drum === null ? {} : (model.shed().limitChanges.drums.get(drum)?.get(id) ?? {}));
  const haveOwn = (id: string): Slug[] => [...model.shed().limitChanges.drums].filter(([, changes]) => changes.has(id)).map(([drum]) => drum);

  const set = (id: string, drum: Slug | null, given: LimitChange, user: string): Limit => {
    const before = limitOf(id, drum);
    const isMoved = (['low', 'high'] as const).some((side) => given[side] !== undefined && given[side] !== before[side]);
    // A number of the grower's own must not stand under the source of another.
    const change = isMoved && given.source === undefined ? { ...given, source: `set by ${user}` } : given;
    requireOrder({ ...before, ...change });
    // A change for the site also reaches drums that have a number of their own on the other side.
    for (const other of drum === null ? haveOwn(id) : []) requireOrder({ ...limitOf(id, other), ...change, ...ownOf(id, other) }, other);
    model.write([{ who: byUser(user), kind: 'limit-set', body: { limit: id, drum, change } }]);
    return limitOf(id, drum);
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

const requireOrder = ({ low, high }: Pick<Limit, 'low' | 'high'>, drum?: Slug): void => {
  if (low !== null && high !== null && low >= high) throw unfit('low', `${low} must be below the high of ${high}${drum === undefined ? '' : ` that ${drum} would have`}`);
};
