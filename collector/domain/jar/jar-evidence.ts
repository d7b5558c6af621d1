import { evidenceOf, type InstrumentBook } from '../calibration/evidence.ts';
import type { Batch } from '../journal/shed.ts';
import { isAct } from '../journal/shed.ts';
import type { JarGate } from './jar-gate.ts';
import { jarGate } from './jar-gate.ts';
import { meterCheckAt } from './meter-check.ts';
import type { PackLimit } from './pack-limits.ts';
import { packLimitInForce } from './pack-limits.ts';
import type { JarReading, PackedJarRule } from './packed-jar-rule.ts';
import { isStrip } from './strip.ts';

export interface JarEvidence extends InstrumentBook {
  readonly limit?: PackLimit;
  readonly rule?: PackedJarRule;
}

/** The standing readings of packed jars in a batch's story, each with what is known of its meter that day. */
export const jarReadings = (batch: Pick<Batch, 'acts'>, evidence: JarEvidence): readonly JarReading[] =>
  batch.acts
    .filter(isAct('jar-ph'))
    .filter(({ at }) => at <= evidence.now)
    .map(({ at, body: { lot, value, instrument, jar } }): JarReading => {
      const found = evidenceOf({ quantity: 'ph', instrument, by: 'hand', lot, at }, evidence);
      const inDoubt = !found.usable && (found.reason === 'in-doubt' || found.reason === 'discarded');
      return {
        jar: (jar ?? '').trim().toLowerCase() || null,
        at,
        ph: value,
        method: isStrip(instrument) ? 'strip' : 'meter',
        meter: found.usable || inDoubt ? meterCheckAt(evidence.calibrations.get(instrument) ?? [], at, evidence.zone) : null,
        ...(inDoubt && { inDoubt }),
      };
    });

/** The limit the jars of a lot are judged by: jars that are kept cold, and for that reason only were filled, are judged as such. */
export const packLimitOf = (batch: Pick<Batch, 'acts'>): PackLimit => {
  const packed = batch.acts.filter(isAct('jarred')).at(-1)?.body;
  return packLimitInForce(packed?.coldC !== undefined && packed.acid === undefined ? 'cold' : 'shelf');
};

/** The packed-jar verdict of a lot from its story; null before it is jarred. Packed more than once: the last packing decides from when readings count. */
export const jarGateOf = (batch: Pick<Batch, 'acts' | 'jarredAt'>, evidence: JarEvidence): JarGate | null => {
  const { now, limit, rule } = evidence;
  if (batch.jarredAt === null || batch.jarredAt > now) return null;
  return jarGate({ packedAt: batch.jarredAt, readings: jarReadings(batch, evidence), limit: limit ?? packLimitOf(batch), ...(rule !== undefined && { rule }) });
};
