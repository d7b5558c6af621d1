import { actEvidence, actUncertainty } from '../calibration/act-evidence.ts';
import { evidenceOf, type InstrumentBook } from '../calibration/evidence.ts';
import { isAct, type Batch } from '../journal/shed.ts';
import { channels } from '../reading/channel.ts';
import { toRfc3339, type EpochMs } from '../units/time.ts';
import type { HandValue } from './lot-record.ts';
import { personIn } from './person.ts';

/** What people measured themselves, in the drum and in jars, each with whether it counts. */
export const handValues = (batch: Batch, book: InstrumentBook): readonly HandValue[] =>
  batch.acts.filter(({ at, standing }) => standing && at <= book.now).flatMap((act): HandValue[] => {
    const evidence = actEvidence(act, book);
    if (evidence === null) return [];
    const common = { entry: act.sequence, at: toRfc3339(act.at), by: personIn(act.by), uncertainty: actUncertainty(act, batch, book) ?? 0, notUsable: evidence.usable ? null : evidence.text };
    if (isAct('jar-ph')(act)) {
      const { value, instrument, jar } = act.body;
      return [{ ...common, of: 'jar', quantity: 'ph', value, unit: 'pH', instrument, jar: jar ?? null }];
    }
    if (!isAct('measured')(act)) return [];
    const { quantity, value, instrument } = act.body;
    return [{ ...common, of: 'drum', quantity, value, unit: channels[quantity].unit, instrument: instrument ?? null, jar: null }];
  });

/** Why what a probe told at a time is no evidence; null: it is, or is asked no check. */
export const probeNotUsable = (probe: string, quantity: string, lot: string, at: EpochMs, book: InstrumentBook): string | null => {
  if (quantity !== 'ph' && quantity !== 'temperature') return null;
  const evidence = evidenceOf({ quantity, instrument: probe, by: 'probe', lot, at }, book);
  return evidence.usable ? null : evidence.text;
};
