import { segmentsOfBatch } from '../journal/placement.ts';
import { isAct, type Batch, type Shed } from '../journal/shed.ts';
import { checkSettingsWith } from './check-settings.ts';
import type { DecidedDoubt } from '../journal/kept-checks.ts';
import { seriesParts } from '../reading/reading.ts';
import type { EpochMs } from '../units/time.ts';
import { doubtsOf, type Doubt } from './doubt.ts';

/** Results of one lot that a failed check put in doubt, to be decided on by a person. */
export interface LotInDoubt {
  readonly lot: string;
  /** Entries in which something was measured with the instrument. */
  readonly entries: readonly number[];
  /** Whether a probe watched the lot in that time. */
  readonly watched: boolean;
  readonly decided: DecidedDoubt | null;
}

export interface DoubtWithLots extends Doubt {
  readonly instrument: string;
  readonly lots: readonly LotInDoubt[];
}

/** What the failed checks of an instrument put in doubt, with every lot that leaned on it in that time. */
export const inDoubt = (shed: Shed, instrument: string, now: EpochMs): readonly DoubtWithLots[] =>
  doubtsOf(shed.calibrations.get(instrument) ?? [], now, checkSettingsWith(shed.checkSettings)).map((doubt) => ({
    ...doubt,
    instrument,
    lots: [...shed.batches.values()].flatMap((batch) => lotInDoubt(shed, batch, instrument, doubt) ?? []),
  }));

const lotInDoubt = (shed: Shed, batch: Batch, instrument: string, { check, measured, from, to }: Doubt): LotInDoubt | null => {
  const span = { from: from ?? Math.min(batch.startedAt, to), to };
  const entries = batch.written
    .filter(({ at }) => at >= span.from && at < to)
    .filter((act) => (isAct('jar-ph')(act) ? measured === 'ph' && act.body.instrument === instrument : isAct('measured')(act) && act.body.quantity === measured && act.body.instrument === instrument))
    .map(({ sequence }) => sequence);
  const watched = segmentsOfBatch(shed, batch, measured, span).some(({ series }) => seriesParts(series).probe === instrument);
  if (entries.length === 0 && !watched) return null;
  return { lot: batch.lot, entries, watched, decided: shed.doubtDecisions.findLast((decision) => decision.check === check && decision.lot === batch.lot) ?? null };
};

/** Doubts that somebody still has to decide on for a lot. */
export const undecided = (doubts: readonly DoubtWithLots[]): readonly { readonly doubt: DoubtWithLots; readonly lot: string }[] =>
  doubts.flatMap((doubt) => doubt.lots.filter(({ decided }) => decided === null).map(({ lot }) => ({ doubt, lot })));
