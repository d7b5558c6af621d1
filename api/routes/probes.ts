import { byUser } from '#domain/journal/entry.ts';
import type { Channel } from '#domain/reading/channel.ts';
import { seriesParts } from '#domain/reading/reading.ts';
import { toRfc3339 } from '#domain/units/time.ts';
import { ApiError, notFound } from '../errors.ts';
import { probeViews, type PresenceOf } from '../shed/probe-view.ts';
import type { ShedModel } from '../shed/shed-model.ts';
import type { Handlers } from './mount.ts';

/** Probes: seen, placed, calibrated. */
export const probeRoutes = (model: ShedModel, presenceOf: PresenceOf): Handlers<'probes' | 'place' | 'calibrate'> => {
  /** A probe is known once it has spoken, or once somebody placed it ahead. */
  const known = async (probe: string): Promise<boolean> =>
    [...model.shed().placements.keys(), ...(await model.store.latest()).keys()].some((series) => seriesParts(series as `${string}/${Channel}`).probe === probe);

  return {
    probes: async () => ({ probes: await probeViews(model, presenceOf) }),
    place: async ({ params, body, user }) => {
      const probe = params.probe ?? '';
      if (!(await known(probe))) throw notFound(`probe ${probe}; it is listed from its first reading on`);
      if (body.drum !== null && !model.shed().drums.has(body.drum)) throw notFound(`drum ${body.drum}`);
      const now = model.clock.now();
      const from = body.from === undefined ? now : Date.parse(body.from);
      if (from > now + 60_000) throw new ApiError('does-not-fit', 'from: lies in the future. Nothing was written.', [{ path: 'from', message: 'lies in the future' }]);
      const placement = { probe, channel: body.channel as Channel, drum: body.drum, from: toRfc3339(from) };
      model.write([{ who: byUser(user.name), kind: 'placed', body: placement }]);
      return placement;
    },
    calibrate: async ({ params, body, user }) => {
      const probe = params.probe ?? '';
      if (!(await known(probe))) throw notFound(`probe ${probe}; it is listed from its first reading on`);
      const at = body.at === undefined ? toRfc3339(model.clock.now()) : toRfc3339(Date.parse(body.at));
      const calibration = body.kind === 'ph' ? { probe, kind: body.kind, points: body.points, temperatureC: body.temperatureC, at } : { probe, kind: body.kind, readingC: body.readingC, referenceC: body.referenceC, at };
      const [entry] = model.write([{ who: byUser(user.name), kind: 'calibrated', body: calibration }]);
      return { sequence: entry?.sequence, by: user.name, ...calibration };
    },
  };
};
