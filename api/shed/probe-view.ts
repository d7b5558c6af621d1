import type { Probe } from '#contract';
import { isFromFile } from '#domain/logger/from-file.ts';
import { channels } from '#domain/reading/channel.ts';
import { seriesParts, type Reading } from '#domain/reading/reading.ts';
import { isStale, usualIntervalMs } from '#domain/rules/silence.ts';
import { toRfc3339 } from '#domain/units/time.ts';
import type { ShedModel } from './shed-model.ts';

/** What is known of a probe from the journal and its readings. */
export type ProbeView = Omit<Probe, 'clock'>;
export type PresenceOf = (probe: string) => 'online' | 'offline' | 'unknown';

/** Every probe ever heard, unplaced ones first, with what it measures and how it is doing. */
export const probeViews = async (model: ShedModel, presenceOf: PresenceOf): Promise<ProbeView[]> => {
  const shed = model.shed();
  const now = model.clock.now();
  const probes = new Map<string, Probe['channels']>();
  const healths = new Map<string, Probe['health'][]>();
  for (const { series, last, count } of await model.store.summaries()) {
    const { probe, channel } = seriesParts(series);
    const placement = shed.placements.get(series)?.findLast(({ from }) => from <= now) ?? null;
    const shown = { value: last.value, at: toRfc3339(last.at), ageS: Math.max(0, Math.round((now - last.at) / 1_000)), quality: last.quality };
    const placed = placement?.drum === null || placement === null ? null : { drum: placement.drum, from: toRfc3339(placement.from) };
    probes.set(probe, [...(probes.get(probe) ?? []), { channel, unit: channels[channel].unit, last: shown, count, placement: placed }]);
    healths.set(probe, [...(healths.get(probe) ?? []), await healthOf(model, last, now)]);
  }
  return [...probes]
    .map(([id, list]): ProbeView => ({
      id,
      channels: list,
      presence: presenceOf(id),
      hasPassword: shed.probePasswords.has(id),
      calibrations: (shed.calibrations.get(id) ?? []).map((calibration) => ({ ...calibration })),
      health: (['faulty', 'silent'] as const).find((health) => healths.get(id)?.includes(health)) ?? (healths.get(id)?.every((health) => health === 'unknown') === true ? 'unknown' : 'ok'),
    }))
    .sort((one, other) => Number(isPlaced(one)) - Number(isPlaced(other)) || (one.id < other.id ? -1 : 1));
};

/** A probe of which nothing is stored. */
export const unseenView = (model: ShedModel, presenceOf: PresenceOf, id: string): ProbeView => ({ id, channels: [], presence: presenceOf(id), hasPassword: model.shed().probePasswords.has(id), calibrations: [], health: 'unknown' });

const isPlaced = ({ channels: list }: ProbeView): boolean => list.some(({ placement }) => placement !== null);

const healthOf = async (model: ShedModel, last: Reading, now: number): Promise<Probe['health']> => {
  if (last.quality !== 'good') return 'faulty';
  if (isFromFile(model.shed(), last)) return 'unknown';
  const times = (await model.store.recent(last.series, 9)).map(({ at }) => at);
  return isStale(last.at, usualIntervalMs(null, times), now) ? 'silent' : 'ok';
};
