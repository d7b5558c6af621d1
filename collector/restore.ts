import type { Shed } from '#domain/journal/shed.ts';
import { seriesParts, type Reading, type SeriesId } from '#domain/reading/reading.ts';
import type { ReadingStore } from '#domain/reading/store.ts';
import type { EpochMs } from '#domain/units/time.ts';
import { binMs } from '#domain/heat/ten-minute-means.ts';
import { keptMs } from './watch/bins.ts';
import type { RestoredMean } from './watch/foresee.ts';
import type { Restored } from './watch/restore.ts';

/** Enough for an hour's delay at a reading every ten seconds. */
const readingsRestored = 400;

/**
 * What the watch starts from after a restart: of each placed series the last readings, and since each open excursion the span of
 * values, read from rollups. Nothing is scanned.
 */
export const restoredFrom = async (store: ReadingStore, shed: Shed, now: EpochMs): Promise<Restored> => {
  const latest = await store.latest();
  const placed = [...shed.placements].filter(([, placements]) => placements.at(-1)?.drum !== null).map(([series]) => series as SeriesId);
  const recent = new Map<SeriesId, readonly Reading[]>();
  for (const series of placed) recent.set(series, await store.recent(series, readingsRestored));

  const spans = new Map<string, { readonly min: number; readonly max: number }>();
  const begun = new Set([...shed.openAlerts.values()].flatMap(({ excursions }) => excursions.filter(({ to }) => to === null).map(({ from }) => from)));
  for (const series of placed) {
    for (const from of begun) {
      const { points } = await store.view([{ series, from, to: now + 1 }], { from, to: now + 1 }, 50);
      if (points.length > 0) spans.set(`${series} ${from}`, { min: Math.min(...points.map(({ min }) => min)), max: Math.max(...points.map(({ max }) => max)) });
    }
  }
  const means = new Map<SeriesId, readonly RestoredMean[]>();
  for (const [series] of latest) {
    const { channel } = seriesParts(series);
    const from = Math.floor((now - keptMs) / binMs) * binMs;
    if (channel === 'air-temperature' || ((channel === 'temperature' || channel === 'ph') && placed.includes(series))) means.set(series, (await store.view([{ series, from, to: now + 1 }], { from, to: now + 1 }, keptMs / binMs + 2)).points);
  }
  return { shed, latest, means: (series) => means.get(series) ?? [], recent: (series) => recent.get(series) ?? [], spanSince: (series, since) => spans.get(`${series} ${since}`) ?? null };
};
