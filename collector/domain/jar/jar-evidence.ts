import type { EntryBodies } from '../journal/entry.ts';
import type { Batch } from '../journal/shed.ts';
import { isAct } from '../journal/shed.ts';
import type { EpochMs } from '../units/time.ts';
import type { JarGate } from './jar-gate.ts';
import { jarGate } from './jar-gate.ts';
import { meterCheckAt } from './meter-check.ts';
import type { PackLimit } from './pack-limits.ts';
import { packLimitInForce } from './pack-limits.ts';
import type { JarReading, PackedJarRule } from './packed-jar-rule.ts';

export interface JarEvidence {
  /** Calibrations by instrument, as the shed keeps them. */
  readonly calibrations: ReadonlyMap<string, readonly EntryBodies['calibrated'][]>;
  readonly zone: string;
  readonly now: EpochMs;
  readonly limit?: PackLimit;
  readonly rule?: PackedJarRule;
}

/** Instruments that are no meter, by the words in their name. */
export const isStrip = (instrument: string): boolean => /strip|paper|litmus/i.test(instrument);

/** The standing readings of packed jars in a batch's story, each with what is known of its meter that day. */
export const jarReadings = (batch: Pick<Batch, 'acts'>, { calibrations, zone, now }: JarEvidence): readonly JarReading[] =>
  batch.acts
    .filter(isAct('jar-ph'))
    .filter(({ at }) => at <= now)
    .map(({ at, body: { value, instrument, jar } }) => ({
      jar: (jar ?? '').trim().toLowerCase() || null,
      at,
      ph: value,
      method: isStrip(instrument) ? 'strip' : 'meter',
      meter: meterCheckAt(calibrations.get(instrument) ?? [], at, zone),
    }));

/** The packed-jar verdict of a lot from its story; null before it is jarred. Packed more than once: the last packing decides from when readings count. */
export const jarGateOf = (batch: Pick<Batch, 'acts' | 'jarredAt'>, evidence: JarEvidence): JarGate | null => {
  const { now, limit, rule } = evidence;
  if (batch.jarredAt === null || batch.jarredAt > now) return null;
  // Jars that are kept cold, and for that reason only were filled, are judged as such.
  const packed = batch.acts.filter(isAct('jarred')).at(-1)?.body;
  const plan = packed?.coldC !== undefined && packed.acid === undefined ? 'cold' : 'shelf';
  return jarGate({ packedAt: batch.jarredAt, readings: jarReadings(batch, evidence), limit: limit ?? packLimitInForce(plan), ...(rule !== undefined && { rule }) });
};
