import type { RouteAnswer } from '#contract';
import { byUser } from '#domain/journal/entry.ts';
import { outOfServiceKey, type OutOfService } from '#domain/journal/shed.ts';
import { defaultLimits } from '#domain/rules/default-limits.ts';
import { toRfc3339 } from '#domain/units/time.ts';
import { notFound } from '../errors.ts';
import { personOf } from '../shed/shape.ts';
import type { ShedModel } from '../shed/shed-model.ts';
import type { Handlers } from './mount.ts';

/** Limits of drums that are not judged for now, each with who said so and why. */
export const outOfServiceRoutes = (model: ShedModel): Handlers<'outOfService' | 'setOutOfService' | 'setInService'> => {
  const of = (drum: string, limit: string): OutOfService | undefined => model.shed().limitChanges.outOfService.get(outOfServiceKey(drum, limit));
  return {
    outOfService: () => ({ outOfService: [...model.shed().limitChanges.outOfService.values()].map(shape) }),
    setOutOfService: ({ params: { drum = '', id = '' }, body, user }) => {
      if (!model.shed().drums.has(drum)) throw notFound(`drum ${drum}`);
      if (!defaultLimits.some((limit) => limit.id === id)) throw notFound(`limit ${id}`);
      model.write([{ who: byUser(user.name), kind: 'limit-out-of-service', body: { drum, limit: id, reason: body.reason } }]);
      const set = of(drum, id);
      if (set === undefined) throw new Error(`limit ${id} of ${drum} was taken out of service and is not`);
      return shape(set);
    },
    setInService: ({ params: { drum = '', id = '' }, user }) => {
      if (of(drum, id) === undefined) throw notFound(`limit ${id} out of service for ${drum}`);
      model.write([{ who: byUser(user.name), kind: 'limit-in-service', body: { drum, limit: id } }]);
      return null;
    },
  };
};

const shape = ({ drum, limit, reason, by, since }: OutOfService): RouteAnswer<'setOutOfService'> => ({ drum, limit, reason, by: personOf(by), since: toRfc3339(since) });
