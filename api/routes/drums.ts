import { byUser } from '#domain/journal/entry.ts';
import { segmentsOf } from '#domain/journal/placement.ts';
import { channels, type Channel } from '#domain/reading/channel.ts';
import { dayMs, type EpochMs } from '#domain/units/time.ts';
import { ApiError, notFound } from '../errors.ts';
import { allDrums, drumView } from '../shed/drum-view.ts';
import { batchShownFor } from '../shed/batch-view.ts';
import type { Forecasts } from '../shed/forecasts.ts';
import type { ShedModel } from '../shed/shed-model.ts';
import type { Handlers } from './mount.ts';

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
      const now = model.clock.now();
      const asked = { from: queryMs(query.from), to: queryMs(query.to) };
      if (asked.from !== undefined && asked.to !== undefined && asked.from > asked.to) throw new ApiError('bad-query', 'from: lies after to.', [{ path: 'from', message: 'lies after to' }]);
      // What lies ahead is no gap: the span ends now at the latest.
      const to = Math.min(asked.to ?? now + 1, now + 1);
      const from = asked.from ?? batchShownFor(model.shed(), id)?.stays.findLast(({ drum }) => drum === id)?.from ?? to - 7 * dayMs;
      const span = { from, to: Math.max(from, to) };
      const view = await model.store.view(segmentsOf(model.shed(), id, channel, span), span, query.points);
      return { channel, unit: channels[channel].unit, level: view.level, points: [...view.points], gaps: [...view.gaps] };
    },
  };
};

const queryMs = (time: string | undefined): EpochMs | undefined => (time === undefined ? undefined : /^\d+$/.test(time) ? Number(time) : Date.parse(time));
