import type { Shed } from '#domain/journal/shed.ts';
import type { Reading, SeriesId, Slug } from '#domain/reading/reading.ts';
import { addToExposure, startExposure, type ExposureDraft } from '#domain/rules/exposure.ts';
import type { EpochMs } from '#domain/units/time.ts';
import type { DrumWatch } from './drum.ts';
import type { RestoredMean } from './foresee.ts';
import type { SeriesWatch } from './series.ts';

/**
 * How long and how far each batch in a drum was too warm since its start: one running total a batch, filled by the probe placed last.
 * A start or a placement written down later is counted from when it was written; the next start of the collector reads all of it.
 */
export interface Exposures {
  take(series: SeriesWatch, reading: Pick<Reading, 'at' | 'value'>): void;
  /** `sums` tell of a batch not yet known here what the store holds; without them it starts from nothing. */
  follow(shed: Shed, drums: ReadonlyMap<Slug, DrumWatch>, watched: ReadonlyMap<SeriesId, SeriesWatch>, sums: ((lot: string) => readonly RestoredMean[]) | null): void;
  of(lot: string): ExposureDraft | null;
}

export const createExposures = (): Exposures => {
  const drafts = new Map<string, ExposureDraft>();
  /** Which batch a series tells of. */
  let told: ReadonlyMap<SeriesId, ExposureDraft> = new Map();
  return {
    take: ({ series }, { at, value }) => {
      const draft = told.get(series);
      if (draft !== undefined && at >= draft.from) addToExposure(draft, at, value, 1);
    },

    follow: (shed, drums, watched, sums) => {
      const believed = new Map<Slug, SeriesWatch>();
      for (const series of shed.placements.keys()) {
        const watch = watched.get(series as SeriesId);
        if (watch === undefined || watch.drum === null || watch.channel !== 'temperature') continue;
        if (watch.placedFrom > (believed.get(watch.drum)?.placedFrom ?? -1)) believed.set(watch.drum, watch);
      }
      const next = new Map<SeriesId, ExposureDraft>();
      const lots = new Set<string>();
      for (const { drum, batch } of drums.values()) {
        if (batch === null) continue;
        lots.add(batch.lot);
        const draft = drafts.get(batch.lot) ?? restored(batch.startedAt, sums?.(batch.lot) ?? []);
        drafts.set(batch.lot, draft);
        const watch = believed.get(drum.id);
        if (watch !== undefined) next.set(watch.series, draft);
      }
      for (const lot of drafts.keys()) if (!lots.has(lot)) drafts.delete(lot);
      told = next;
    },

    of: (lot) => drafts.get(lot) ?? null,
  };
};

const restored = (from: EpochMs, sums: readonly RestoredMean[]): ExposureDraft => {
  const draft = startExposure(from);
  for (const { t, mean, count } of sums) addToExposure(draft, t, mean * count, count);
  return draft;
};
