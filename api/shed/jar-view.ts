import type { BatchDetail, JarsOfLot, OpenHold as HoldShape } from '#contract';
import { instrumentBookOf } from '#domain/calibration/book.ts';
import { jarCautions } from '#domain/jar/cautions.ts';
import type { OpenHold } from '#domain/jar/holds.ts';
import { openHolds } from '#domain/jar/holds.ts';
import { jarGateOf } from '#domain/jar/jar-evidence.ts';
import type { JarGate } from '#domain/jar/jar-gate.ts';
import { jarStock } from '#domain/jar/jar-stock.ts';
import type { Batch } from '#domain/journal/shed.ts';
import { isAct } from '#domain/journal/shed.ts';
import { toRfc3339, type EpochMs } from '#domain/units/time.ts';
import { personOf } from './shape.ts';
import type { ShedModel } from './shed-model.ts';

/** The packed-jar verdict of a lot by what is known at a time; null before it is jarred. */
export const gateAt = (model: ShedModel, batch: Pick<Batch, 'acts' | 'jarredAt'>, now: EpochMs): JarGate | null =>
  jarGateOf(batch, instrumentBookOf(model.shed(), model.zone, now));

export const holdShape = ({ at, by, ...hold }: OpenHold): HoldShape => ({ ...hold, at: toRfc3339(at), by: personOf(by) });

export const holdsOf = (batch: Batch, now: EpochMs): HoldShape[] => openHolds(batch.acts, now).map(holdShape);

/** Jars of a lot: how many, whether they are inside, and what to know of the risk; null while the fruit is in the drum. */
export const jarsOf = (model: ShedModel, batch: Batch): BatchDetail['jars'] => {
  const now = model.clock.now();
  const gate = gateAt(model, batch, now);
  const packed = batch.acts.filter(isAct('jarred')).findLast(({ at }) => at <= now);
  if (gate === null || packed === undefined) return null;
  const stock = jarStock(batch.acts, now);
  return {
    filled: stock.jarred,
    jarMl: packed.body.jarMl,
    left: stock.left,
    distributed: stock.to.map(({ to, jars, at }) => ({ to, jars, at: toRfc3339(at) })),
    gate: gateShape(gate),
    cautions: [...jarCautions(packed.body)],
  };
};

const gateShape = ({ verdict, text, margin, decidedBy, limit, mean, uncertainty, jars, discounted, next }: JarGate): JarsOfLot['gate'] => ({
  verdict, text, margin, decidedBy, limit, mean, uncertainty,
  jars: jars.map(({ jar, last, course, repeatFrom }) => ({ jar, ph: last.ph, at: toRfc3339(last.at), course, repeatFrom: repeatFrom === null ? null : toRfc3339(repeatFrom) })),
  discounted: discounted.map(({ reading: { jar, ph, at }, why }) => ({ jar, ph, at: toRfc3339(at), why })),
  next: next === null ? null : { code: next.code, text: next.text, from: 'from' in next ? toRfc3339(next.from) : null, term: 'term' in next ? next.term : null },
});
