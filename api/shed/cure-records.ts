import { changeRhythmDays, changesOf } from '#domain/cure/change-rhythm.ts';
import type { AttributedCure } from '#domain/cure/attribute-days.ts';
import type { Bitterness } from '#domain/cure/batch.ts';
import type { OwnSchedules } from '#domain/cure/own-schedules.ts';
import { measuredShare, type CureStory } from '#domain/cure/compare-cures.ts';
import { endOfCure, type CureEnd } from '#domain/cure/end-of-cure.ts';
import type { TemperatureReading } from '#domain/cure/temperature-dose.ts';
import { spansOfReadings } from '#domain/cure/temperature-span.ts';
import { segmentsOfBatch } from '#domain/journal/placement.ts';
import { isAct, type Batch } from '#domain/journal/shed.ts';
import { hourMs, minuteMs, type EpochMs } from '#domain/units/time.ts';
import type { ShedModel } from './shed-model.ts';

/** What the journal and the readings tell of one cure, at one end point. */
export interface CureRecord {
  readonly batch: Batch;
  readonly end: CureEnd | null;
  /** The latest tasting in the drum, where the cure has not ended. */
  readonly last: Bitterness | null;
  readonly story: CureStory;
  readonly measured: number | null;
  readonly temperatures: readonly TemperatureReading[];
}

export interface CureRecords {
  of(batch: Batch, endPoint: Bitterness): Promise<CureRecord>;
}

/** Late readings of an old cure are rare; they are seen within this. */
const keepMs = 10 * minuteMs;
/** Hourly means lose nothing that a drum can do to a mean kinetic temperature; the longest cures are read a little coarser. */
const mostPoints = 20_000;

export const createCureRecords = (model: ShedModel): CureRecords => {
  const kept = new Map<string, { readonly stays: unknown; readonly placements: unknown; readonly at: EpochMs; readonly temperatures: readonly TemperatureReading[] }>();
  const temperaturesOf = async (batch: Batch): Promise<readonly TemperatureReading[]> => {
    const now = model.clock.now();
    const { placements } = model.shed();
    const last = kept.get(batch.lot);
    if (last !== undefined && last.stays === batch.stays && last.placements === placements && now - last.at < keepMs) return last.temperatures;
    const span = { from: batch.startedAt, to: batch.jarredAt ?? now };
    const points = Math.min(mostPoints, Math.max(2, Math.ceil((span.to - span.from) / hourMs) + 1));
    const view = span.from < span.to ? await model.store.view(segmentsOfBatch(model.shed(), batch, 'temperature', span), span, points) : { points: [] };
    const temperatures = view.points.map(({ t, mean }) => ({ t, temperatureC: mean }));
    kept.set(batch.lot, { stays: batch.stays, placements, at: now, temperatures });
    return temperatures;
  };
  return {
    of: async (batch, endPoint) => {
      const temperatures = await temperaturesOf(batch);
      const ended = endOfCure(batch, endPoint);
      const end = ended.ok ? ended.value : null;
      const upTo = end === null ? temperatures : temperatures.filter(({ t }) => t <= end.sweetAt);
      const story: CureStory = {
        lot: batch.lot,
        cut: batch.cut,
        style: batch.style,
        maturity: batch.maturity,
        days: end?.days ?? null,
        tastedEveryDays: end?.gapDays ?? undefined,
        notEnded: ended.ok ? undefined : ended.error.code,
        spans: spansOfReadings(upTo).spans,
      };
      return { batch, end, last: ended.ok ? null : ended.error.last, story, measured: measuredShare(story), temperatures };
    },
  };
};

/** As the attribution of days wants it; null while the cure has not ended. */
export const attributedCure = ({ batch, end, temperatures }: CureRecord, own: OwnSchedules): AttributedCure | null =>
  end === null
    ? null
    : {
        batch,
        temperatures,
        changes: changesOf(batch),
        changesEveryDays: changeRhythmDays(batch, own),
        tastings: batch.acts.filter(isAct('tasted')).filter(({ at }) => batch.jarredAt === null || at <= batch.jarredAt).map(({ at, body }) => ({ at, bitterness: body.bitterness })),
        days: end.likelyDays,
      };
