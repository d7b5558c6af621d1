import { segmentsOfBatch } from '#domain/journal/placement.ts';
import type { Batch, Shed } from '#domain/journal/shed.ts';
import { seriesParts, type Reading, type SeriesId } from '#domain/reading/reading.ts';
import { levelMs, type Point, type ReadingStore } from '#domain/reading/store.ts';
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
  const warmth = new Map<string, readonly Point[]>();
  for (const { lot } of shed.drums.values()) {
    const batch = lot === null ? undefined : shed.batches.get(lot);
    if (batch !== undefined) warmth.set(batch.lot, await sixHourMeans(store, shed, batch, now));
  }
  return { shed, latest, sixHourMeans: (lot) => warmth.get(lot) ?? [], means: (series) => means.get(series) ?? [], recent: (series) => recent.get(series) ?? [], spanSince: (series, since) => spans.get(`${series} ${since}`) ?? null };
};

/** More than this a view never reads, so what it gives for so many points is never merged across six hours. */
const unmerged = 60_000;

/** Good temperatures of a batch, no step of them across two six-hour intervals: from the rollups, or from what is finer where little is stored. */
const sixHourMeans = async (store: ReadingStore, shed: Shed, batch: Batch, now: EpochMs): Promise<readonly Point[]> => {
  // A reading may be stamped a little ahead of the clock.
  const span = { from: batch.startedAt, to: now + levelMs['6h'] };
  const segments = segmentsOfBatch(shed, batch, 'temperature', span);
  const steps = Math.ceil((span.to - span.from) / levelMs['6h']) + 2 * segments.length + 1;
  if (segments.length === 0 || steps < 1) return [];
  const coarse = await store.view(segments, span, steps);
  return coarse.level === '6h' ? coarse.points : (await store.view(segments, span, unmerged)).points;
};
