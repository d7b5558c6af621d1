import { byUser } from '#domain/journal/entry.ts';
import { segmentsOf } from '#domain/journal/placement.ts';
import type { Channel } from '#domain/reading/channel.ts';
import { dayMs } from '#domain/units/time.ts';
import { ApiError, notFound } from '../errors.ts';
import { allDrums, drumView } from '../shed/drum-view.ts';
import { batchShownFor } from '../shed/batch-view.ts';
import type { Forecasts } from '../shed/forecasts.ts';
import type { ShedModel } from '../shed/shed-model.ts';
import type { Handlers } from './mount.ts';
import { askedSpan, readingsShape } from './readings-span.ts';

/** Drums and their readings. */
export const drumRoutes = (model: ShedModel, forecasts: Forecasts): Handlers<'addDrum' | 'drums' | 'drum' | 'readings'> => {
  const found = async (id: string) => {
    const drum = await drumView(model, forecasts, id);
    if (drum === null) throw notFound(`drum ${id}`);
    return drum;
  };
  return {
    addDrum: async ({ body, user }) => {
      if (model.shed().drums.has(body.id)) throw new ApiError('already-exists', `There is a drum ${body.id} already. Choose another id.`);
      model.write([{ who: byUser(user.name), kind: 'drum-added', body }]);
      return found(body.id);
    },
    drums: async () => ({ drums: await allDrums(model, forecasts) }),
    drum: ({ params }) => found(params.drum ?? ''),
    readings: async ({ params, query }) => {
      const id = params.drum ?? '';
      if (!model.shed().drums.has(id)) throw notFound(`drum ${id}`);
      const channel = query.channel as Channel;
      const span = askedSpan(query, model.clock.now(), 7 * dayMs, batchShownFor(model.shed(), id)?.stays.findLast(({ drum }) => drum === id)?.from);
      return readingsShape(channel, await model.store.view(segmentsOf(model.shed(), id, channel, span), span, query.points));
    },
  };
};
