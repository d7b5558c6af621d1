import { segmentsOfBatch } from '../journal/placement.ts';
import { isAct, type Batch, type Shed } from '../journal/shed.ts';
import { seriesParts, type Slug } from '../reading/reading.ts';
import { fromRfc3339, type EpochMs } from '../units/time.ts';

/** A pH of a lot that stands on a buffer: read between the setting of the instrument in it and the next one. */
export interface BufferLean {
  readonly buffer: Slug;
  readonly instrument: Slug;
  readonly calibratedAt: EpochMs;
  /** Read on a packed jar. */
  readonly jars: boolean;
}

export const bufferLeans = (shed: Pick<Shed, 'calibrations' | 'placements'>, batch: Batch, now: EpochMs): readonly BufferLean[] =>
  [...shed.calibrations].flatMap(([instrument, checks]) => {
    const settings = checks.filter(({ kind }) => kind === 'ph').map((check) => ({ at: fromRfc3339(check.at), buffers: 'lots' in check ? (check.lots ?? []) : [] })).sort((one, other) => one.at - other.at);
    return settings.flatMap(({ at, buffers }, index) => {
      const span = { from: at, to: Math.min(settings[index + 1]?.at ?? now, now) };
      if (buffers.length === 0 || span.from >= span.to) return [];
      const byProbe = segmentsOfBatch(shed, batch, 'ph', span).some(({ series }) => seriesParts(series).probe === instrument);
      const within = (when: EpochMs): boolean => when >= at && when <= span.to;
      const byHand = batch.acts.filter(isAct('measured')).some((act) => act.body.quantity === 'ph' && act.body.instrument === instrument && within(act.at));
      const onJars = batch.acts.filter(isAct('jar-ph')).some((act) => act.body.instrument === instrument && within(act.at));
      return buffers.flatMap((buffer): BufferLean[] => [
        ...(byProbe || byHand ? [{ buffer, instrument, calibratedAt: at, jars: false }] : []),
        ...(onJars ? [{ buffer, instrument, calibratedAt: at, jars: true }] : []),
      ]);
    });
  });
