import { checkSettingsWith } from '#domain/calibration/check-settings.ts';
import { failedCheck } from '#domain/calibration/failed-check.ts';
import type { Calibrated } from '#domain/journal/check-entries.ts';
import { byUser } from '#domain/journal/entry.ts';
import type { Channel } from '#domain/reading/channel.ts';
import { seriesId, seriesParts, slugPattern, type SeriesId } from '#domain/reading/reading.ts';
import { dayMs, toRfc3339 } from '#domain/units/time.ts';
import { newProbePassword } from '#collector';
import { notFound, unfit } from '../errors.ts';
import { withClocks, type ClocksOf } from '../shed/probe-clock.ts';
import { probeHealths } from '../shed/probe-health.ts';
import { probeViews, unseenView, type PresenceOf } from '../shed/probe-view.ts';
import type { ShedModel } from '../shed/shed-model.ts';
import { knownLots } from './lots-guard.ts';
import type { Handlers } from './mount.ts';
import { askedSpan, readingsShape } from './readings-span.ts';
import { happenedAt } from './times.ts';

/** Probes: seen, placed, calibrated. */
export const probeRoutes = (model: ShedModel, presenceOf: PresenceOf, clocks: ClocksOf): Handlers<'probes' | 'probeHealths' | 'probeReadings' | 'place' | 'calibrate' | 'setProbePassword' | 'removeProbePassword'> => {
  /** A probe is known once it has spoken, or once somebody placed it ahead. */
  const known = async (probe: string): Promise<string> => {
    const series = [...model.shed().placements.keys(), ...(await model.store.latest()).keys()] as SeriesId[];
    if (!series.some((each) => seriesParts(each).probe === probe)) throw notFound(`probe ${probe}; it is listed from its first reading on`);
    return probe;
  };

  return {
    probes: async () => ({ probes: withClocks(await probeViews(model, presenceOf), clocks(), model.clock.now(), (id) => unseenView(model, presenceOf, id)) }),
    probeHealths: async () => ({ probes: await probeHealths(model) }),
    probeReadings: async ({ params, query }) => {
      const series = seriesId(await known(params.probe ?? ''), query.channel as Channel);
      const span = askedSpan(query, model.clock.now(), 7 * dayMs);
      return readingsShape(query.channel as Channel, await model.store.view([{ series, ...span }], span, query.points));
    },
    place: async ({ params, body, user }) => {
      const probe = await known(params.probe ?? '');
      if (body.drum !== null && !model.shed().drums.has(body.drum)) throw notFound(`drum ${body.drum}`);
      const now = model.clock.now();
      // In force from the moment it is answered, also for a phone whose clock is ahead.
      const from = body.from === undefined ? now : Math.min(happenedAt('from', body.from, now), now);
      const placement = { probe, channel: body.channel as Channel, drum: body.drum, from: toRfc3339(from) };
      model.write([{ who: byUser(user.name), kind: 'placed', body: placement }]);
      return placement;
    },
    setProbePassword: ({ params, user }) => {
      const probe = params.probe ?? '';
      if (!slugPattern.test(probe)) throw unfit('probe', 'is no name of a probe: lower-case letters, digits and dashes');
      const { password, digest } = newProbePassword();
      model.write([{ who: byUser(user.name), kind: 'probe-password-set', body: { probe, digest } }]);
      return { probe, name: probe, password };
    },
    removeProbePassword: ({ params, user }) => {
      const probe = params.probe ?? '';
      if (!model.shed().probePasswords.has(probe)) throw notFound(`password of probe ${probe}`);
      model.write([{ who: byUser(user.name), kind: 'probe-password-set', body: { probe, digest: null } }]);
      return null;
    },
    calibrate: async ({ params, body, user }) => {
      // A meter held in the hand never sends anything, and is calibrated all the same.
      const probe = slugPattern.test(params.probe ?? '') ? (params.probe ?? '') : await known(params.probe ?? '');
      const now = model.clock.now();
      const at = toRfc3339(body.at === undefined ? now : happenedAt('at', body.at, now));
      const { lots, ...told } = body;
      const calibration = { probe, ...told, at, ...(lots === undefined ? {} : { lots: knownLots(model, lots) }) } as Calibrated;
      const [entry] = model.write([{ who: byUser(user.name), kind: 'calibrated', body: calibration }]);
      return { sequence: entry?.sequence, by: user.name, ...calibration, failed: failedCheck(calibration, checkSettingsWith(model.shed().checkSettings)) };
    },
  };
};
