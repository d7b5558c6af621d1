import type { Shed } from '#domain/journal/shed.ts';
import type { Reading, SeriesId } from '#domain/reading/reading.ts';
import type { ReadingStore } from '#domain/reading/store.ts';
import type { EpochMs } from '#domain/units/time.ts';
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
  return { shed, latest, recent: (series) => recent.get(series) ?? [], spanSince: (series, since) => spans.get(`${series} ${since}`) ?? null };
};
